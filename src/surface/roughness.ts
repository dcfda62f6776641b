import { distance } from '../geometry';
import { leastSquares } from './matrix';
import type { Reading } from './reading';

/** Even a face that reads flat is not trusted beyond 2 mm a metre away from the nearest reading (practice, no source). */
const LEAST = 0.002;
/** Nor beyond 1 mm however little it strays: three readings always lie in their plane (practice, no source). */
const LEAST_MOST = 1;
/** Readings looked at: enough for a mean, few enough for a thousand readings. */
const SAMPLE = 100;

/** How far a face strays where no reading holds it, one standard deviation. */
export interface Roughness {
  /** mm per mm of the way to the nearest reading. */
  readonly slope: number;
  /** mm, however long that way is. */
  readonly most: number;
}

/**
 * The slope is how steeply a face runs off its own mean plane between neighbouring readings: the root mean square over pairs of nearest
 * neighbours, what the readings' own sigma explains taken off. The most is twice what it strays from that plane all over.
 */
export function roughness(readings: readonly Reading[]): Roughness {
  const rise = offMeanPlane(readings);
  const stride = Math.ceil(readings.length / SAMPLE);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < readings.length; i += stride) {
    const here = readings[i] as Reading;
    let nearest = Number.POSITIVE_INFINITY;
    let square = 0;
    readings.forEach((there, j) => {
      const away = distance(here.at, there.at);
      if (j === i || away >= nearest) return;
      nearest = away;
      const read = here.sigma ** 2 + there.sigma ** 2;
      square = Math.max(0, ((rise[i] as number) - (rise[j] as number)) ** 2 - read) / away ** 2;
    });
    sum += square;
    count += 1;
  }
  const slope = Math.max(Math.sqrt(sum / count), LEAST);
  const stray = Math.sqrt(rise.reduce((total, z) => total + z * z, 0) / rise.length);
  return { slope, most: Math.max(2 * stray, LEAST_MOST) };
}

/** Heights over the plane of least squares (over the mean where there are too few readings for a plane). */
function offMeanPlane(readings: readonly Reading[]): number[] {
  const [x0, y0] = (readings[0] as Reading).at;
  const basis = readings.map(({ at }) => [1, at[0] - x0, at[1] - y0]);
  const heights = readings.map(({ z }) => z);
  const [level, a, b] = leastSquares(basis, heights) as [number, number, number];
  return readings.map(({ z }, i) => z - level - a * (basis[i]?.[1] as number) - b * (basis[i]?.[2] as number));
}
