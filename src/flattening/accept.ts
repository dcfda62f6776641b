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
/** Cells of the face that may be given up one by one, and cells that the missed area is measured with. */
const GIVEN_CELLS = 150;
const MEASURED_CELLS = 1500;
/** A face told by more spots than this is given up cell by cell: its spots lie too close to matter singly. */
const FEW_SPOTS = 250;
/** Sets of given-up spots that are followed at once: a board has at most three limiting spots on a face. */
const FOLLOWED = 3;
/** Less than this is no gain, mm. */
const NO_GAIN = 0.001;

/**
 * The curve of thickness against accepted skip of each face. A thicker board must miss one of the spots that limit it, so the
 * search gives up one limiting spot of the face after another and follows the sets that gain most. Every point is a board
 * that can be had; with one or two spots given up none is thicker.
 */
export function acceptedSkips(faces: Faces, polygon: Polygon<'face'>, board: BlankBoard): Accepted[] {
  const measured = cellsOf(polygon, MEASURED_CELLS);
  const given = cellsOf(polygon, GIVEN_CELLS);
  return (['top', 'bottom'] as const).flatMap((face) => {
    const height = ({ at }: Cell): number => faces[face].height(at as Point<'face'>);
    const heights = Float64Array.from(measured, height);
    const cells = given.map((cell): Spot3 => [...cell.at, height(cell)]);
    const spots = board[face].length > FEW_SPOTS ? cells : [...board[face], ...cells];
    const missed = (found: Board): number => missedShare(measured, heights, face, found);
    const curve = follow(spots, face, against(board, face), missed);
    // Where the surface knows what it does not know, the board to count on is thinner than the one under its most likely face.
    const most = thickestBoard(board.top, board.bottom).thickness;
    const first = { skip: 0, thickest: most };
    return told([first, ...curve]).map(({ skip, thickest }) => ({
      face,
      skip,
      thickest: thickest - most + board.thickest,
    }));
  });
}

/**
 * Solves for some spots of one face against all of the other. Few of those ever bind, so they are brought in as they are found to
 * stick out, and stay for the next call.
 */
function against(board: BlankBoard, face: 'top' | 'bottom'): (kept: readonly Spot3[]) => Board {
  const all = face === 'top' ? board.bottom : board.top;
  const other = face === 'top' ? 'bottom' : 'top';
  const few = board.limits.filter((limit) => limit.face === other).map(({ spot }) => all[spot] as Spot3);
  const binding = few.length > 0 ? few : [all[0] as Spot3];
  return (kept) => {
    for (;;) {
      const found = face === 'top' ? thickestBoard(kept, binding) : thickestBoard(binding, kept);
      const plane = face === 'top' ? found.plane : lifted(found.plane, found.thickness);
      let worst: Spot3 | undefined;
      let most = NO_GAIN / 10;
      for (const spot of all) {
        const out = (face === 'top' ? 1 : -1) * over(plane, ...spot);
        if (out <= most) continue;
        most = out;
        worst = spot;
      }
      if (worst === undefined) return found;
      binding.push(worst);
    }
  };
}

/** Share of the blank where the face lies on the wrong side of its plane: wood is missing there. */
function missedShare(cells: readonly Cell[], heights: Float64Array, face: 'top' | 'bottom', board: Board): number {
  const plane = face === 'top' ? lifted(board.plane, board.thickness) : board.plane;
  const sign = face === 'top' ? -1 : 1;
  return areaShare(cells, ({ at: [x, y] }, i) => sign * over(plane, x, y, heights[i] as number) > NO_GAIN);
}

interface OnCurve {
  readonly skip: number;
  readonly thickest: number;
}

/** Boards with more and more of the face's spots given up, until too much of it is missed. */
function follow(
  spots: readonly Spot3[],
  face: 'top' | 'bottom',
  solve: (kept: readonly Spot3[]) => Board,
  missed: (board: Board) => number,
): OnCurve[] {
  const curve: OnCurve[] = [];
  // What is missed between the cells that measure it is taken as one of them.
  const least = 1 / MEASURED_CELLS;
  const start = { kept: spots.map((_, i) => i), board: solve(spots) };
  for (let open = [start]; open.length > 0; ) {
    open = open.filter(({ board }) => {
      const skip = Math.max(least, missed(board));
      if (skip <= MOST_SKIP) curve.push({ skip, thickest: board.thickness });
      return skip <= MOST_SKIP;
    });
    const sets = new Map<string, number[]>();
    for (const { kept, board } of open) {
      for (const limit of board.limits) {
        if (limit.face !== face || kept.length === 1) continue;
        const rest = kept.filter((_, i) => i !== limit.spot);
        sets.set(rest.join(), rest);
      }
    }
    open = [...sets.values()]
      .map((kept) => ({ kept, board: solve(kept.map((i) => spots[i] as Spot3)) }))
      .sort((a, b) => b.board.thickness - a.board.thickness)
      .slice(0, FOLLOWED);
  }
  return curve;
}

/** The thickest for each told share, those left out that gain nothing. */
function told(curve: readonly OnCurve[]): OnCurve[] {
  const points: OnCurve[] = [];
  for (const most of TOLD) {
    const best = curve.filter(({ skip }) => skip <= most).reduce((a, b) => (b.thickest > a.thickest ? b : a));
    if (points.length === 0 || best.thickest > (points.at(-1) as OnCurve).thickest + NO_GAIN) points.push(best);
  }
  return points;
}
