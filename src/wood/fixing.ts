import { movement, slotLength } from './movement';

/** How a top is fixed so that it may move. Lengths in mm, moistures in %. */
export interface Fixing {
  /** What the depth changes by between the driest and the wettest time of the year. */
  readonly season: number;
  /** How far that moves the front and the back edge: all to the side that is not fast. */
  readonly front: number;
  readonly back: number;
  /** Rows of screws, by their distance from the front edge: the fast one is a round hole. */
  readonly rows: readonly { readonly at: number; readonly fast: boolean; readonly slot: number }[];
  readonly screw: number;
  /** Screws of one row, and how far apart. */
  readonly perRow: number;
  readonly apart: number;
  readonly source: string;
}

/** Which line of a top is fast: counters usually hold at the front, tables in the middle (practice, no source). */
export type FastLine = 'front' | 'middle' | 'back';

/** Distance of an outer row from its edge, rows and screws at most so far apart, mm (practice, no source). */
const EDGE = 50;
const ROWS_APART = 350;
const SCREWS_APART = 400;

/**
 * Rows of screws across a top with the slots that they need: screw + distance from the fast row x tangential coefficient x swing + 1 mm
 * (practice; the form derived). The top is flat-sawn as far as this knows: the larger movement.
 * @throws InputProblem for an unknown species or a size of 0 or less
 */
export function fixingOf(asked: {
  readonly species: string;
  readonly length: number;
  readonly depth: number;
  readonly driest: number;
  readonly wettest: number;
  readonly fast: FastLine;
  readonly screw: number;
}): Fixing {
  const { species, length, depth, driest, wettest, fast, screw } = asked;
  const swing = { species, from: driest, to: wettest };
  const moved = movement({ ...swing, width: depth, cut: 'flat' });
  const edge = Math.min(EDGE, depth / 4);
  const inner = depth - 2 * edge;
  const spaces = Math.max(fast === 'middle' ? 2 : 1, Math.ceil(inner / ROWS_APART));
  const count = fast === 'middle' && spaces % 2 === 1 ? spaces + 1 : spaces;
  const places = Array.from({ length: count + 1 }, (_, i) => edge + (inner * i) / count);
  const held = { front: 0, middle: count / 2, back: count }[fast];
  const line = places[held] as number;
  const perRow = Math.max(2, Math.ceil((length - 2 * EDGE) / SCREWS_APART) + 1);
  return {
    season: moved.change,
    front: (moved.change * line) / depth,
    back: (moved.change * (depth - line)) / depth,
    rows: places.map((at, i) => ({
      at,
      fast: i === held,
      slot: i === held ? screw : slotLength(screw, Math.abs(at - line), swing),
    })),
    screw,
    perRow,
    apart: Math.max(0, length - 2 * EDGE) / (perRow - 1),
    source: moved.source,
  };
}
