import type { Spot3 } from '../surface';
import { centreOf, cloudOf, type Holding, highest, lowest, reach } from './cloud';
import type { Plane } from './planes';
import { squareBoard } from './square';
import { MOST_TILT, uprightBoard } from './upright';

/** A spot that holds the board from being thicker. */
export interface Limit extends Holding {
  readonly at: readonly [number, number];
}

/** The thickest parallel board between two faces. */
export interface Board {
  /** Square to its planes, mm; negative when the faces leave no board, and then the least that is missing, upright. */
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
  const level = 1 / Math.hypot(upright.a, upright.b, 1);
  const start = [-upright.a * level, -upright.b * level, level] as const;
  const square = upright.thickness > 0 ? squareBoard(over, under, start) : undefined;
  const best = square && steepness(square.normal) <= MOST_TILT ? square : { normal: start, limits: upright.limits };
  // Both planes are set by the spots that they touch: exact, whatever the solvers' last digits.
  const [nx, ny, nz] = best.normal;
  const upper = reach(over, lowest(over, nx, ny, nz), nx, ny, nz);
  const lower = reach(under, highest(under, nx, ny, nz), nx, ny, nz);
  const [a, b] = [-nx / nz, -ny / nz];
  return {
    thickness: upper - lower,
    plane: { a, b, c: lower / nz + centre[2] - a * centre[0] - b * centre[1] },
    limits: best.limits.map(({ face, spot, share }) => {
      const [x, y] = (face === 'top' ? top : bottom)[spot] as Spot3;
      return { face, spot, at: [x, y] as const, share };
    }),
  };
}

const steepness = ([nx, ny, nz]: readonly [number, number, number]): number =>
  nz <= 0 ? Number.POSITIVE_INFINITY : Math.max(Math.abs(nx), Math.abs(ny)) / nz;
