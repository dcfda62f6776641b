import type { Point, Polygon } from '../geometry';
import type { Faces, Spot3 } from '../surface';
import { type Board, thickestBoard } from './board';
import { areaShare, type Cell, cellsOf } from './cells';
import { lifted, over } from './planes';
import type { BlankBoard } from './thickness';

/** A board that misses a share of one face. */
export interface Accepted {
  readonly face: 'top' | 'bottom';
  /** Share of the blank's area that planing misses on that face. */
  readonly skip: number;
  readonly thickest: number;
}

/** A face that is missed over more than this is not flat (practice, no source). */
const MOST_SKIP = 0.1;
/** Shares that the curve is told at: at each, the thickest board found that misses no more. */
const TOLD = [0, 0.0025, 0.005, 0.01, 0.02, 0.03, 0.05, 0.075, MOST_SKIP];
/** Cells of the face that may be missed one by one, and cells that the missed area is measured with. */
const DROPPED_CELLS = 150;
const MEASURED_CELLS = 1500;
/** Sets of missed spots that are followed at once. */
const FOLLOWED = 2;
/** Less than this is no gain, mm. */
const NO_GAIN = 0.001;

/**
 * The curve of thickness against accepted skip of each face. A thicker board must miss one of the spots that limit it, so the
 * search gives up one limiting spot of the face after another and keeps the sets that gain most. Every point is a board
 * that can be had; up to two missed spots none is thicker.
 */
export function acceptedSkips(faces: Faces, polygon: Polygon<'face'>, board: BlankBoard): Accepted[] {
  const measured = cellsOf(polygon, MEASURED_CELLS);
  const dropped = cellsOf(polygon, DROPPED_CELLS);
  // A smooth surface's thickest board is thinner than the one under its most likely face: the gain is the same.
  const below = thickestBoard(board.top, board.bottom).thickness - board.thickest;
  return (['top', 'bottom'] as const).flatMap((face) => {
    const height = (cell: Cell): number => faces[face].height(cell.at as Point<'face'>);
    const heights = Float64Array.from(measured, height);
    const spots = [...sparse(board[face]), ...dropped.map((cell): Spot3 => [...cell.at, height(cell)])];
    const solve = (kept: readonly Spot3[]): Board =>
      face === 'top' ? thickestBoard(kept, board.bottom) : thickestBoard(board.top, kept);
    const curve = follow(spots, face, solve, (found) => skipped(measured, heights, face, found));
    return told(curve).map(({ skip, thickest }) => ({ face, skip, thickest: thickest - below }));
  });
}

/** At most a few hundred spots of a dense face: the cells stand between them anyway. */
function sparse(spots: readonly Spot3[]): readonly Spot3[] {
  const stride = Math.ceil(spots.length / 400);
  return spots.filter((_, i) => i % stride === 0);
}

/** Share of the blank where the face lies on the wrong side of its plane: wood is missing there. */
function skipped(cells: readonly Cell[], heights: Float64Array, face: 'top' | 'bottom', board: Board): number {
  const plane = face === 'top' ? lifted(board.plane, board.thickness) : board.plane;
  const sign = face === 'top' ? -1 : 1;
  return areaShare(cells, ({ at: [x, y] }, i) => sign * over(plane, x, y, heights[i] as number) > NO_GAIN);
}

interface Point2 {
  readonly skip: number;
  readonly thickest: number;
}

function follow(
  spots: readonly Spot3[],
  face: 'top' | 'bottom',
  solve: (kept: readonly Spot3[]) => Board,
  missed: (board: Board) => number,
): Point2[] {
  const first = { kept: spots, board: solve(spots) };
  const curve: Point2[] = [{ skip: 0, thickest: first.board.thickness }];
  for (let open = [first]; open.length > 0; ) {
    const next = open.flatMap(({ kept, board }) =>
      board.limits
        .filter((limit) => limit.face === face)
        .map(({ spot }) => kept.filter((_, i) => i !== spot))
        .filter((rest) => rest.length > 0)
        .map((rest) => ({ kept: rest, board: solve(rest) })),
    );
    next.sort((a, b) => b.board.thickness - a.board.thickness);
    open = next.slice(0, FOLLOWED).filter(({ board }) => {
      const skip = missed(board);
      if (skip <= MOST_SKIP) curve.push({ skip, thickest: board.thickness });
      return skip <= MOST_SKIP;
    });
  }
  return curve;
}

/** The thickest for each told share, those left out that gain nothing. */
function told(curve: readonly Point2[]): Point2[] {
  const points: Point2[] = [];
  for (const most of TOLD) {
    const best = curve.filter(({ skip }) => skip <= most).reduce((a, b) => (b.thickest > a.thickest ? b : a));
    if (points.length === 0 || best.thickest > (points.at(-1) as Point2).thickest + NO_GAIN) points.push(best);
  }
  return points;
}
