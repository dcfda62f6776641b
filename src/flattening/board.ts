import type { Spot3 } from '../surface';
import { type Cloud, centreOf, cloudOf, type Holding, highest, lowest, reach } from './cloud';
import type { Plane } from './planes';
import { squareBoard } from './square';
import { MOST_TILT, type UprightBoard, uprightBoard } from './upright';

/** A spot that holds the board from being thicker. */
export interface Limit extends Holding {
  readonly at: readonly [number, number];
}

/** The thickest parallel board between two faces. */
export interface Board {
  /** Square to its planes, mm; negative when the faces leave no board: the least that is missing. */
  readonly thickness: number;
  /** The underside. The upper side is parallel to it, `thickness` away. */
  readonly plane: Plane;
  readonly limits: readonly Limit[];
}

/**
 * The thickest parallel board that lies under every spot of the top and over every spot of the bottom (DESIGN 5.1). The upright
 * program is solved exactly, then the thickness square to the planes; that one has no ties: of boards equally thick upright
 * the least tilted is the thickest.
 * @param top, bottom at least one spot each, in one frame, mm, z up
 * @throws RangeError without spots, or for a coordinate that is not finite
 */
export function thickestBoard(top: readonly Spot3[], bottom: readonly Spot3[]): Board {
  const centre = centreOf(top);
  const [over, under] = [cloudOf(top, centre), cloudOf(bottom, centre)];
  const upright = uprightBoard(over, under);
  const best = squareTo(over, under, upright);
  // Both planes are set by the spots that they touch: exact, whatever the solvers' last digits.
  const [nx, ny, nz] = best.normal;
  const upper = reach(over, lowest(over, nx, ny, nz), nx, ny, nz);
  const lower = reach(under, highest(under, nx, ny, nz), nx, ny, nz);
  const [a, b] = [0 - nx / nz, 0 - ny / nz];
  return {
    thickness: upper - lower,
    plane: { a, b, c: lower / nz + centre[2] - a * centre[0] - b * centre[1] },
    limits: best.limits.map(({ face, spot, share }) => {
      const [x, y] = (face === 'top' ? top : bottom)[spot] as Spot3;
      return { face, spot, at: [x, y] as const, share };
    }),
  };
}

/** The planes' direction and what holds them: square to the shortest way, or the upright board's where none fits or it is too steep. */
function squareTo(over: Cloud, under: Cloud, upright: UprightBoard): { normal: Direction; limits: readonly Holding[] } {
  const length = Math.hypot(upright.a, upright.b, 1);
  const start: Direction = [-upright.a / length, -upright.b / length, 1 / length];
  const square = upright.thickness > 0 ? squareBoard(over, under, start) : undefined;
  if (square && steepness(square.normal) <= MOST_TILT) return square;
  // Without a board there is no shortest way to settle ties: then the level planes, if none miss less.
  const level = (over.z[lowest(over, 0, 0, 1)] as number) - (under.z[highest(under, 0, 0, 1)] as number);
  const tied = upright.thickness <= 0 && level >= upright.thickness - 1e-9;
  return { normal: tied ? [0, 0, 1] : start, limits: upright.limits };
}

type Direction = readonly [x: number, y: number, z: number];

const steepness = ([nx, ny, nz]: Direction): number =>
  nz <= 0 ? Number.POSITIVE_INFINITY : Math.max(Math.abs(nx), Math.abs(ny)) / nz;
