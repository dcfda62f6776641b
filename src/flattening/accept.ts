import type { Point, Region } from '../geometry';
import type { Faces, Spot3 } from '../surface';
import { type Board, thickestBoard } from './board';
import { areaShare, type Cell, cellsOf } from './cells';
import { lifted, over, type Plane } from './planes';
import { bestSkips } from './skip-search';
import type { BlankBoard } from './thickness';

/** A board that misses a share of one face. */
export interface Accepted {
  readonly face: 'top' | 'bottom';
  /** Share of the blank's area that planing misses on that face. */
  readonly skip: number;
  readonly thickest: number;
  /** No board that misses no more than that is thicker than this, mm. */
  readonly most: number;
  /** Its underside. */
  readonly plane: Plane;
}

/** A face that is missed over more than this is not flat (practice, no source). */
const MOST_SKIP = 0.1;
/** Shares that the curve is told at. */
const TOLD = [0.0025, 0.005, 0.01, 0.02, 0.03, 0.05, 0.075, MOST_SKIP];
/** Cells that the missed area is measured with. */
const CELLS = 700;
/** Less than this is no gain, mm. */
const NO_GAIN = 0.001;

/**
 * The curve of thickness against accepted skip of each face: at each told share the thickest board that misses no more of the face, with
 * how much thicker one could be at most. The first point of each face misses nothing.
 */
export function acceptedSkips(faces: Faces, region: Region<'face'>, board: BlankBoard): Accepted[] {
  const cells = cellsOf(region, CELLS);
  const likeliest = thickestBoard(board.top, board.bottom);
  // Where the surface knows what it does not know, the board to count on is thinner than the one under its most likely face.
  const doubt = board.thickest - likeliest.thickness;
  return (['top', 'bottom'] as const).flatMap((face) => {
    const heights = faces[face].heights(cells.map(({ at }) => at as Point<'face'>));
    const spots = cells.map(({ at }, i): Spot3 => [...at, heights[i] as number]);
    const first = { face, skip: 0, thickest: likeliest.thickness, most: likeliest.thickness, plane: likeliest.plane };
    return gaining([first, ...curveOf(face, cells, spots, board, likeliest)]).map((point) => ({
      ...point,
      thickest: point.thickest + doubt,
      most: point.most + doubt,
      plane: lifted(point.plane, -doubt / 2),
    }));
  });
}

function curveOf(
  face: 'top' | 'bottom',
  cells: readonly Cell[],
  spots: readonly Spot3[],
  board: BlankBoard,
  first: Board,
): Accepted[] {
  // Seen from the other side the underside is a top: heights change their sign, and tilts with them.
  const up = face === 'top' ? 1 : -1;
  const [x0, y0] = middleOf(cells);
  const column = (of: readonly Spot3[], get: (spot: Spot3) => number): Float64Array => Float64Array.from(of, get);
  const across = (of: readonly Spot3[]) => ({
    x: column(of, ([x]) => x - x0),
    y: column(of, ([, y]) => y - y0),
    z: column(of, ([, , z]) => up * z),
  });
  const area = cells.reduce((sum, cell) => sum + cell.area, 0);
  const weights = Float64Array.from(cells, (cell) => cell.area / area);
  const [own, other] = face === 'top' ? [board.top, board.bottom] : [board.bottom, board.top];
  const problem = { ...across(spots), weights, other: across(other) };
  const found = bestSkips(problem, TOLD, [[up * first.plane.a, up * first.plane.b]]);
  const all = [...own, ...spots];
  return found.flatMap(({ a, b, level, most }): Accepted[] => {
    // What of this face the plane of this tilt leaves on; from that, and all of the other face, the exact board.
    const kept = all.filter(([x, y, z]) => up * z - a * (x - x0) - b * (y - y0) >= level - 1e-9);
    if (kept.length === 0) return [];
    const exact = face === 'top' ? thickestBoard(kept, other) : thickestBoard(other, kept);
    const plane = face === 'top' ? lifted(exact.plane, exact.thickness) : exact.plane;
    const missed = areaShare(cells, (_, i) => -up * over(plane, ...(spots[i] as Spot3)) > NO_GAIN);
    // What is missed between the cells that measure it is taken as one of them.
    const skip = Math.max(1 / cells.length, missed);
    return [{ face, skip, thickest: exact.thickness, most: Math.max(most, exact.thickness), plane: exact.plane }];
  });
}

function middleOf(cells: readonly Cell[]): readonly [number, number] {
  const mean = (axis: 0 | 1): number => cells.reduce((sum, { at }) => sum + at[axis], 0) / cells.length;
  return [mean(0), mean(1)];
}

/** The points of which none is as thick with less missed. */
function gaining(curve: readonly Accepted[]): Accepted[] {
  const points: Accepted[] = [];
  for (const point of [...curve].sort((p, q) => p.skip - q.skip || q.thickest - p.thickest)) {
    if (point.skip <= MOST_SKIP && point.thickest > (points.at(-1)?.thickest ?? -Infinity) + NO_GAIN)
      points.push(point);
  }
  return points;
}
