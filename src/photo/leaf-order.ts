import { bounds, centroid, type Point, type Polygon } from '../geometry';
import type { LeafOrder } from './leaf-types';

/** Two leaves lie in one row (or column) where they share more than this of the lesser one's height (or width). */
const SHARED = 0.5;

/** A leaf as it lies in the photo. */
type Ring = Polygon<'photo'>;

const spanOf = (ring: Ring, axis: 0 | 1): readonly [number, number] => {
  const box = bounds(ring);
  return axis === 0 ? [box.minX, box.maxX] : [box.minY, box.maxY];
};

/** Rings gathered into rows (axis 1) or columns (axis 0), the first one first, each in order along the other axis. */
function lines(rings: readonly Ring[], axis: 0 | 1): number[][] {
  const middle = (i: number, of: 0 | 1) => centroid(rings[i] as Ring)[of];
  const order = [...rings.keys()].sort((a, b) => middle(a, axis) - middle(b, axis));
  const rows: number[][] = [];
  for (const i of order) {
    const last = rows.at(-1);
    const [low, high] = spanOf(rings[i] as Ring, axis);
    const inRow = last?.some((k) => {
      const [from, to] = spanOf(rings[k] as Ring, axis);
      return Math.min(high, to) - Math.max(low, from) > SHARED * Math.min(high - low, to - from);
    });
    if (last && inRow) last.push(i);
    else rows.push([i]);
  }
  const along = axis === 0 ? 1 : 0;
  return rows.map((row) => row.sort((a, b) => middle(a, along) - middle(b, along)));
}

/** How leaves that lie so are numbered, until told otherwise: one row from the left, one column from the top, several rows as they are read. */
export function usualOrder(rings: readonly Ring[]): LeafOrder {
  const [rows, columns] = [lines(rings, 1), lines(rings, 0)];
  if (rows.length === 1) return 'left to right';
  if (columns.length === 1) return 'top to bottom';
  // Leaves that lie in steps have rows and columns of one leaf each: what they are spread over more decides.
  if (rows.every((row) => row.length === 1)) {
    const spread = (axis: 0 | 1) => {
      const at = rings.map((ring) => centroid(ring)[axis]);
      return Math.max(...at) - Math.min(...at);
    };
    return spread(1) >= spread(0) ? 'top to bottom' : 'left to right';
  }
  return 'rows';
}

/** The places of the rings among them, in the order in which they are numbered. */
export function numbered(rings: readonly Ring[], order: LeafOrder): number[] {
  const by = (axis: 0 | 1, sign: 1 | -1) =>
    [...rings.keys()].sort(
      (a, b) => sign * (centroid(rings[a] as Ring)[axis] - centroid(rings[b] as Ring)[axis]) || a - b,
    );
  switch (order) {
    case 'left to right':
      return by(0, 1);
    case 'right to left':
      return by(0, -1);
    case 'top to bottom':
      return by(1, 1);
    case 'bottom to top':
      return by(1, -1);
    case 'rows':
      return lines(rings, 1).flat();
    case 'columns':
      return lines(rings, 0).flat();
  }
}

const HOW: Readonly<Record<LeafOrder, string>> = {
  'left to right': 'from left to right',
  'right to left': 'from right to left',
  'top to bottom': 'from the top down',
  'bottom to top': 'from the bottom up',
  rows: 'row by row, each from left to right, the top row first',
  columns: 'column by column, each from the top down, the left one first',
};

/** What was numbered and how. */
export const orderSaid = (count: number, order: LeafOrder): string =>
  count === 1
    ? 'One leaf was found in the picture.'
    : `${count} leaves were found in the picture and numbered ${HOW[order]}, as if they were sawn in that order. Change the numbers where they were not.`;

/** Where a leaf's number is shown. */
export const middleOf = (ring: Ring): Point<'photo'> => centroid(ring);
