import { seededRandom } from '../search';
import { Moments, type PairMoments } from './metric';
import { BLOCK_RAW, SideReader, StationReader } from './side-features';
import { LESS, MORE, STATION, type StationSums } from './station-sums';

/** Blocks over which a side's look is averaged, mm. */
export const BLOCK = 100;
/** Imaginary kerfs lie this far apart across the grain, mm. */
const ROW_STEP = 3;
/** Of a block at least this share must be sound to be learnt from. */
export const TELLING = 0.5;
/** So many pairs of each kind are plenty for the moments of some tens of features. */
const PLENTY = 16_000;
/** Sides that belong elsewhere lie this far from the right line at least, mm: several rings. */
const ELSEWHERE = 25;
/** Sides a few rings beside the right line, mm. */
const BESIDE = [8, 25] as const;

/** Both sides of imaginary kerfs all over a face, level, block by block: [block][row][BLOCK_RAW]. */
export interface KerfTable {
  readonly blocks: number;
  readonly rows: number;
  readonly less: Float32Array;
  readonly more: Float32Array;
  /** Share of the block that is sound on both sides, [block][row]. */
  readonly known: Float32Array;
  /** Share that is sound on the side of more y alone. */
  readonly moreKnown: Float32Array;
}

/** @param kerf wood between the two sides, mm */
export function kerfTable(face: StationSums, kerf: number): KerfTable {
  const each = Math.max(1, Math.min(face.stations, BLOCK / STATION));
  const blocks = Math.floor(face.stations / each);
  const rows = Math.max(0, Math.ceil((face.rows - kerf) / ROW_STEP) - 1);
  const less = new Float32Array(blocks * rows * BLOCK_RAW);
  const more = new Float32Array(blocks * rows * BLOCK_RAW);
  const known = new Float32Array(blocks * rows);
  const moreKnown = new Float32Array(blocks * rows);
  const reader = new SideReader();
  const sides = [new StationReader(face, LESS), new StationReader(face, MORE)] as const;
  const read = (b: number, line: number, side: typeof LESS | typeof MORE, out: Float32Array, at: number) => {
    for (let k = 0; k < each; k++) reader.add(sides[side], b * each + k, line, (k + 0.5) / each - 0.5);
    return reader.finish(0, side === MORE, out, at) / each;
  };
  for (let b = 0; b < blocks; b++) {
    for (let i = 0; i < rows; i++) {
      const at = b * rows + i;
      const line = (i + 1) * ROW_STEP;
      const here = read(b, line, LESS, less, at * BLOCK_RAW);
      const there = read(b, line + kerf, MORE, more, at * BLOCK_RAW);
      known[at] = Math.min(here, there);
      moreKnown[at] = there;
    }
  }
  return { blocks, rows, less, more, known, moreKnown };
}

/** What the flitch's own wood teaches: pairs across its kerfs, and wrong pairs of the same sides. Chance is seeded. */
export function pairMoments(tables: readonly KerfTable[]): PairMoments {
  const random = seededRandom(1);
  const centre = centreOf(tables);
  const [uncut, elsewhere, beside] = [new Moments(centre), new Moments(centre), new Moments(centre)];
  const total = tables.reduce((sum, { blocks, rows }) => sum + blocks * rows, 0);
  const step = Math.max(1, Math.ceil(total / PLENTY));
  const below = (n: number) => Math.floor(random.next() * n);
  tables.forEach((table, t) => {
    for (let at = below(step); at < table.known.length; at += step) {
      if ((table.known[at] as number) < TELLING) continue;
      const [b, i] = [Math.floor(at / table.rows), at % table.rows];
      uncut.add(table.less, at * BLOCK_RAW, table.more, at * BLOCK_RAW);
      const [least, most] = [Math.ceil(BESIDE[0] / ROW_STEP), Math.floor(BESIDE[1] / ROW_STEP)];
      const near = i + (random.next() < 0.5 ? -1 : 1) * (least + below(most - least + 1));
      wrong(beside, table, at, table, b, near);
      const o = below(tables.length);
      const other = tables[o] as KerfTable;
      const far = below(other.rows);
      if (o !== t || Math.abs(far - i) * ROW_STEP >= ELSEWHERE)
        wrong(elsewhere, table, at, other, o === t ? b : below(other.blocks), far);
    }
  });
  return { centre, uncut, elsewhere, beside };
}

function wrong(into: Moments, table: KerfTable, at: number, other: KerfTable, b: number, row: number): void {
  if (row < 0 || row >= other.rows) return;
  const to = b * other.rows + row;
  if ((other.moreKnown[to] as number) >= TELLING) into.add(table.less, at * BLOCK_RAW, other.more, to * BLOCK_RAW);
}

function centreOf(tables: readonly KerfTable[]): Float32Array {
  const sums = new Float64Array(BLOCK_RAW);
  let n = 0;
  for (const { known, less, more } of tables) {
    for (let at = 0; at < known.length; at++) {
      if ((known[at] as number) < TELLING) continue;
      for (let k = 0, from = at * BLOCK_RAW; k < BLOCK_RAW; k++, from++)
        sums[k] = (sums[k] as number) + ((less[from] as number) + (more[from] as number)) / 2;
      n++;
    }
  }
  return Float32Array.from(sums, (x) => x / Math.max(1, n));
}
