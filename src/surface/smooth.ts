import { type Point, type Region, simplify } from '../geometry';
import { fill } from './fill';
import { linearSurface } from './linear';
import { Memo } from './memo';
import { type Place, Process } from './process';
import type { Faces, Reading, Spot3, Surface } from './reading';

/** Both faces of a slab, and what they might be where no reading tells. */
export interface SmoothFaces extends Faces {
  /**
   * Both faces over a region as they might really be, each draw as likely as any other given the readings.
   * @param normal numbers from the normal distribution of mean 0 and standard deviation 1
   */
  draws(
    region: Region<'face'>,
    count: number,
    normal: () => number,
  ): { readonly top: Spot3[]; readonly bottom: Spot3[] }[];
}

/** Most readings of a face that are fitted: the work grows with their cube. */
const MOST_READINGS = 400;
/** Most spots of a face in a draw: their spread is a square matrix of twice that side. */
const SPOTS_DRAWN = 150;

/**
 * Both faces of a slab as a warp (bow, cup, twist, tilt, a wedge of thickness) with a smooth rest, fitted together to the readings
 * of both with their sigmas; the uncertainty grows away from the readings.
 * @throws RangeError without readings of a face
 */
export function smoothFaces(top: readonly Reading[], bottom: readonly Reading[], memo = new Memo()): SmoothFaces {
  if (top.length === 0 || bottom.length === 0) throw new RangeError('Both faces need readings.');
  const process = Process.of(fewer(top), fewer(bottom), memo);
  const face = (side: Place['face'], readings: readonly Reading[]): Surface => {
    const heights = (at: readonly Point<'face'>[]): Float64Array =>
      process.heights(at.map(([x, y]) => ({ at: [x, y], face: side })));
    return {
      readings,
      reach: linearSurface(readings).reach,
      height: (at) => process.height({ at, face: side }),
      heights,
      sigma: (at) => process.sigma({ at, face: side }),
      spotsOver: (region) => {
        const at = fill(region, process.length / 5);
        const zs = heights(at);
        return at.map(([x, y], i) => [x, y, zs[i] as number]);
      },
    };
  };
  return {
    top: face('top', top),
    bottom: face('bottom', bottom),
    draws: (region, count, normal) => {
      const at = spread(region, process.length / 2);
      const places = (['top', 'bottom'] as const).flatMap((side) => at.map((p): Place => ({ at: p, face: side })));
      return process.draws(places, count, normal).map((heights) => {
        const spots = places.map(({ at: [x, y] }, i): Spot3 => [x, y, heights[i] as number]);
        return { top: spots.slice(0, at.length), bottom: spots.slice(at.length) };
      });
    },
  };
}

/** Every k-th of very many readings: neighbours then stand so close that they say the same of a smooth face. */
function fewer(readings: readonly Reading[]): readonly Reading[] {
  const stride = Math.ceil(readings.length / MOST_READINGS);
  return readings.filter((_, i) => i % stride === 0);
}

/**
 * Points over the region as close as `step`, or as close as their greatest number allows. The corners of a live edge are thinned
 * along with the rest: heights hardly differ between corners a few mm apart.
 */
function spread(region: Region<'face'>, step: number): Point<'face'>[] {
  for (let [wider, tolerance] = [step, 0]; ; wider *= 1.2, tolerance = 1.5 * tolerance + 1) {
    const outer = simplify(region.outer, tolerance);
    const holes = region.holes.map((hole) => simplify(hole, tolerance));
    const points = fill({ outer, holes }, wider);
    if (points.length <= SPOTS_DRAWN) return points;
  }
}
