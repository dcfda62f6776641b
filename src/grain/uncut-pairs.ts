import { Spread } from './metric';
import {
  BLOCK_RAW,
  EDGE_RAW,
  emptySide,
  LESS,
  MORE,
  type SideFeatures,
  type StationSums,
  sideFeatures,
} from './station-sums';

/** Pairs of the two sides of imaginary kerfs in uncut wood, and of sides that do not belong together. */
export interface UncutPairs {
  readonly edge: { readonly uncut: Spread; readonly unrelated: Spread };
  readonly block: { readonly uncut: Spread; readonly unrelated: Spread };
  /** Mean squared difference of the grain's angle over uncut kerfs, weighted by how sure both are, degrees squared. */
  readonly angleSpread: number;
}

/** Rows between the kerfs that are sampled, and stations between those of the edge features. */
const ROW_STEP = 8;
const EDGE_EVERY = 4;
const STATIONS_A_BLOCK = 20;
/** Sides of unrelated pairs are this far apart at least, mm: several rings. */
const APART = 15;

export function uncutPairs(faces: readonly StationSums[], kerf: number): UncutPairs {
  const edge = { uncut: new Spread(EDGE_RAW), unrelated: new Spread(EDGE_RAW) };
  const block = { uncut: new Spread(BLOCK_RAW), unrelated: new Spread(BLOCK_RAW) };
  const gap = Math.round(kerf);
  let [angles, sure] = [0, 1e-9];
  const columns: Column[] = [];
  const here = emptySide();
  const there = emptySide();
  for (const face of faces) {
    for (let first = 0; first + STATIONS_A_BLOCK <= face.stations; first += STATIONS_A_BLOCK) {
      const column: Column = { less: [], more: [] };
      for (let line = ROW_STEP; line + gap < face.rows; line += ROW_STEP) {
        const less = meanBlock(face, first, line, LESS, here);
        const more = meanBlock(face, first, line + gap, MORE, there);
        if (!less || !more) continue;
        block.uncut.add(less, more);
        column.less.push({ line, block: less, edge: middleEdge(face, first, line, LESS, here) });
        column.more.push({ line: line + gap, block: more, edge: middleEdge(face, first, line + gap, MORE, there) });
        for (let j = first; j < first + STATIONS_A_BLOCK; j += EDGE_EVERY) {
          sideFeatures(face, j, line, LESS, here, false);
          sideFeatures(face, j, line + gap, MORE, there, false);
          if (here.known < 1 / 3 || there.known < 1 / 3) continue;
          edge.uncut.add(here.edge, there.edge);
          const w = here.sure * there.sure;
          angles += w * (here.degrees - there.degrees) ** 2;
          sure += w;
        }
      }
      columns.push(column);
    }
  }
  for (const column of columns) unrelatedPairs(column, edge.unrelated, block.unrelated);
  return { edge, block, angleSpread: angles / sure + 0.05 };
}

interface Sampled {
  readonly line: number;
  readonly block: Float32Array;
  readonly edge: Float32Array | null;
}
interface Column {
  readonly less: Sampled[];
  readonly more: Sampled[];
}

/** Each side with others of the same stretch of log, at spread-out distances. */
function unrelatedPairs({ less, more }: Column, edge: Spread, block: Spread): void {
  less.forEach((p, i) => {
    for (const stride of [7, 17, 31]) {
      const q = more[(i * 3 + stride) % more.length] as Sampled;
      if (Math.abs(q.line - p.line) < APART) continue;
      block.add(p.block, q.block);
      if (p.edge && q.edge) edge.add(p.edge, q.edge);
    }
  });
}

function middleEdge(
  face: StationSums,
  first: number,
  line: number,
  side: typeof LESS | typeof MORE,
  one: SideFeatures,
): Float32Array | null {
  sideFeatures(face, first + (STATIONS_A_BLOCK >> 1), line, side, one, false);
  return one.known < 1 / 3 ? null : one.edge.slice();
}

/** Mean features over a block of stations; null where less than half of it is sound. */
function meanBlock(
  face: StationSums,
  first: number,
  line: number,
  side: typeof LESS | typeof MORE,
  one: SideFeatures,
): Float32Array | null {
  const mean = new Float32Array(BLOCK_RAW);
  let known = 0;
  for (let j = first; j < first + STATIONS_A_BLOCK; j++) {
    sideFeatures(face, j, line, side, one);
    if (one.known < 1 / 3) continue;
    known++;
    for (let k = 0; k < BLOCK_RAW; k++) mean[k] = (mean[k] as number) + (one.block[k] as number);
  }
  return known < STATIONS_A_BLOCK / 2 ? null : mean.map((x) => x / known);
}
