import type { Band } from './band';

/**
 * Which colours are the wood's and which its surroundings', learnt from what lies on the two sides of a line that is right for the most of its
 * length, or under strokes. A card, a joint of the floor or a shoe over the edge is then no edge: it is like neither, or like the surroundings
 * on both sides.
 */

/** Cells of the colour table: CIELAB, of these sizes, from the least value on. */
const CELL = { L: 5, a: 4, b: 4 } as const;
const CELLS = { L: 21, a: 32, b: 32 } as const;
const LEAST = -64;
/** Share that every cell is taken to hold unseen: a colour that neither side has shows nothing. */
const UNSEEN = 5e-4;
/** Log of the ratio from which a colour is the wood's beyond doubt. */
const SURE = 2;

/** Samples from which colours can be learnt. */
const ENOUGH = 2000;

/** Columns about a path: `[from, to]` mm outwards of it. */
type Zone = readonly [from: number, to: number];

/** A change of likeness, averaged over some width, that leaves no doubt. */
const CLEAR = 1;

/** How clear an edge is, 0..1, by the change of likeness across it. */
export const clearness = (change: Float32Array): Float32Array => change.map((v) => Math.max(0, Math.min(1, v / CLEAR)));

/**
 * How much rather each sample's colour is found within than beyond a path through the band, -1..1.
 * @param path column of the line in every row
 * @returns null where one side shows next to nothing to learn from
 */
export function likeness(band: Band, path: ArrayLike<number>, within: Zone, beyond: Zone): Float32Array | null {
  const cells = cellsOf(band);
  const [wood, rest] = [zone(band, path, within), zone(band, path, beyond)].map((mask) =>
    sharesOf(cells, mask, ENOUGH),
  );
  return wood && rest ? ratherOne(cells, wood, rest) : null;
}

/** Samples of a band between two distances from a path: 1 for each. */
function zone({ columns, step, valid }: Band, path: ArrayLike<number>, [from, to]: Zone): Uint8Array {
  const out = new Uint8Array(valid.length);
  for (let row = 0; row * columns < out.length; row++) {
    const first = Math.max(0, Math.round((path[row] as number) + from / step));
    const last = Math.min(columns - 1, Math.round((path[row] as number) + to / step));
    for (let k = row * columns + first; k <= row * columns + last; k++) out[k] = valid[k] as number;
  }
  return out;
}

/** The cell of the colour table that each sample (CIELAB) falls into. */
export function cellsOf({ L, a, b }: Pick<Band, 'L' | 'a' | 'b'>): Int32Array {
  const out = new Int32Array(L.length);
  for (let i = 0; i < out.length; i++) {
    const l = inner(Math.floor((L[i] as number) / CELL.L), CELLS.L);
    const ca = inner(Math.floor(((a[i] as number) - LEAST) / CELL.a), CELLS.a);
    const cb = inner(Math.floor(((b[i] as number) - LEAST) / CELL.b), CELLS.b);
    out[i] = (l * CELLS.a + ca) * CELLS.b + cb;
  }
  return out;
}

/** Not in the outermost cell, so that each has neighbours to spread to. */
const inner = (cell: number, cells: number): number => Math.max(1, Math.min(cells - 2, cell));

/** Share of the samples marked 1 in every cell, spread over its neighbours in each colour coordinate; null where fewer than `least` are marked. */
export function sharesOf(cells: Int32Array, marked: Uint8Array, least: number): Float32Array | null {
  const counts = new Float32Array(CELLS.L * CELLS.a * CELLS.b);
  let all = 0;
  for (let k = 0; k < cells.length; k++) {
    if (!marked[k]) continue;
    const cell = cells[k] as number;
    counts[cell] = (counts[cell] as number) + 1;
    all++;
  }
  if (all < least) return null;
  return [1, CELLS.b, CELLS.a * CELLS.b].reduce(
    (spread, by) => {
      const out = new Float32Array(spread.length);
      for (let i = by; i < spread.length - by; i++) {
        out[i] = 0.5 * (spread[i] as number) + 0.25 * ((spread[i - by] as number) + (spread[i + by] as number));
      }
      return out;
    },
    counts.map((n) => n / all),
  );
}

/** How much rather each sample's colour is found among one kind of samples than among another, -1..1, from the shares of both. */
export function ratherOne(cells: Int32Array, one: Float32Array, other: Float32Array): Float32Array {
  const ratios = one.map((share, cell) => {
    const ratio = Math.log((share + UNSEEN) / ((other[cell] as number) + UNSEEN));
    return Math.max(-1, Math.min(1, ratio / SURE));
  });
  return Float32Array.from(cells, (cell) => ratios[cell] as number);
}
