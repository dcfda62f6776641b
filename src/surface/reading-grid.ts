import { bounds, crossingsAtX, type Point, type Region, regionContains } from '../geometry';

/**
 * Where a slab is read: spots in rows across it, walked to and fro.
 *
 * The slab lies on two bearers, each this share of its length from an end: near there an even beam sags least between and beside them
 * (derived: 0.223 evens the slopes out, practice says 0.22).
 */
export const BEARERS = 0.22;

/** The usual grid: rows along both edges and the middle, five places along (practice, no source). */
export const USUAL_GRID = { rows: 3, columns: 5 } as const;

/** How far from the ends the outermost spots stand, as a share of the length; and from the edges, of the width there. */
const [FROM_ENDS, FROM_EDGES] = [0.05, 0.1];
/** Spots within this of each other along the slab stand in one row across it, mm. */
const ROW = 40;

/**
 * Spots of a regular grid over the wood, in whole mm, in the order in which one walks: across, along to the next row, and back across.
 * Across, they keep to the wood as it is there: a live edge wanders. What would stand in a void is left out.
 * @param rows how many stand across, at least 1
 * @param columns how many rows stand along, at least 1
 */
export function readingGrid(wood: Region<'face'>, rows: number, columns: number): Point<'face'>[] {
  const { minX, maxX } = bounds(wood.outer);
  const share = (i: number, n: number, inset: number): number =>
    n === 1 ? 0.5 : inset + ((1 - 2 * inset) * i) / (n - 1);
  return Array.from({ length: columns }, (_, c) => {
    const x = Math.round(minX + share(c, columns, FROM_ENDS) * (maxX - minX));
    const edges = crossingsAtX(wood.outer, x);
    const [from, to] = [Math.min(...edges), Math.max(...edges)];
    const row = Array.from(
      { length: rows },
      (_, r): Point<'face'> => [x, Math.round(from + share(r, rows, FROM_EDGES) * (to - from))],
    ).filter((at) => regionContains(wood, at));
    return c % 2 === 0 ? row : row.reverse();
  }).flat();
}

/** Spots in rows across the slab, the rows and the spots in each by what lies left and up on the face. */
export function spotRows<S extends { readonly at: Point<'face'> }>(spots: readonly S[]): S[][] {
  const rows: S[][] = [];
  for (const spot of [...spots].sort((p, q) => p.at[0] - q.at[0])) {
    const row = rows.at(-1);
    if (row?.[0] && spot.at[0] - row[0].at[0] <= ROW) row.push(spot);
    else rows.push([spot]);
  }
  return rows.map((row) => row.sort((p, q) => p.at[1] - q.at[1]));
}

/** The spots that callipers reach: the outermost of every row, along one edge and back along the other. */
export function edgeSpots<S extends { readonly at: Point<'face'> }>(spots: readonly S[]): S[] {
  const rows = spotRows(spots);
  const far = rows.flatMap((row) => (row.length > 1 ? row.slice(-1) : []));
  return [...rows.flatMap((row) => row.slice(0, 1)), ...far.reverse()];
}
