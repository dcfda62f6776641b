import type { Point } from '../geometry';
import { backward, cholesky, forward } from '../surface';
import type { Camera } from './camera';

/**
 * How far the wood stands out of the mean plane of its face, towards the camera. A photo taken at a slant shows a spot that stands out
 * by z shifted by z times the slant; where that is not known it is the larger part of a length's ±.
 */
export interface Relief {
  /** Most likely height over the mean plane, mm. */
  height(p: Point<'face'>): number;
  /** What is not known of the heights of two spots together, mm2 (covariance; the variance where they are one). */
  doubt(p: Point<'face'>, q: Point<'face'>): number;
}

/** How far the wood stands out at a point of the face, mm. */
export interface ReliefReading {
  readonly at: Point<'face'>;
  readonly z: number;
}

/**
 * Warp of rough-sawn, air-dried slabs as it is believed before any reading, one standard deviation: bow 3.6 mm at the ends of a 2.7 m slab,
 * cup 2.5 mm at the edges of one 575 wide, twist 3 mm at its corners, and a smooth rest, about what the surface room believes (common practice, no source).
 */
const WARP = { bow: 2e-6, cup: 30e-6, twist: 8e-6, rest: 1.1 };
/** Distance over which the rest keeps its height, mm. */
const REACH = 150;
/** One standard deviation of a height as read with straightedge and rule, mm. */
const READING_SIGMA = 0.3;

/** The frame that warp is thought in: origin amid the photo, u along its longer side, both mm on the face. */
interface Field {
  toField(p: Point<'face'>): readonly [u: number, v: number];
  /** Mean of u squared over the slab, which the mean plane takes out of the bow; and the same across. */
  readonly meanSquare: readonly [number, number];
}

/** The relief that readings tell, between and beyond them by the belief above (Gaussian process regression: Rasmussen and Williams 2006). */
export function reliefOf(
  camera: Camera,
  width: number,
  height: number,
  readings: readonly ReliefReading[] | null,
): Relief {
  const field = fieldOf(camera, width, height);
  const belief = (p: Point<'face'>, q: Point<'face'>): number => {
    const [[u1, v1], [u2, v2]] = [field.toField(p), field.toField(q)];
    const [uu, vv] = field.meanSquare;
    const apart = (u1 - u2) ** 2 + (v1 - v2) ** 2;
    return (
      WARP.bow ** 2 * (u1 * u1 - uu) * (u2 * u2 - uu) +
      WARP.cup ** 2 * (v1 * v1 - vv) * (v2 * v2 - vv) +
      WARP.twist ** 2 * u1 * v1 * u2 * v2 +
      WARP.rest ** 2 * Math.exp(-apart / (2 * REACH * REACH))
    );
  };
  const n = readings?.length ?? 0;
  if (!readings || n === 0) return { height: () => 0, doubt: belief };
  const matrix = new Float64Array(n * n);
  readings.forEach((a, i) => {
    readings.forEach((b, j) => {
      matrix[i * n + j] = belief(a.at, b.at) + (i === j ? READING_SIGMA ** 2 : 0);
    });
  });
  const lower = cholesky(matrix, n);
  const half = (right: Float64Array) => forward(lower, n, right);
  const weights = backward(lower, n, half(Float64Array.from(readings, (reading) => reading.z)));
  const towards = (p: Point<'face'>) => Float64Array.from(readings, (reading) => belief(p, reading.at));
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * (b[i] as number), 0);
  return {
    height: heightOf(field, readings, weights),
    doubt(p, q) {
      const one = half(towards(p));
      return belief(p, q) - dot(one, p === q ? one : half(towards(q)));
    },
  };
}

/** The weighted sum of what is believed of each reading: asked for at every corner of a picture's grid, so what does not depend on the place is summed once. */
function heightOf(
  field: Field,
  readings: readonly ReliefReading[],
  weights: Float64Array,
): (p: Point<'face'>) => number {
  const [uu, vv] = field.meanSquare;
  const spots = Float64Array.from(readings.flatMap(({ at }) => field.toField(at)));
  let [bow, cup, twist] = [0, 0, 0];
  weights.forEach((weight, i) => {
    const [u, v] = [spots[2 * i] as number, spots[2 * i + 1] as number];
    bow += weight * WARP.bow ** 2 * (u * u - uu);
    cup += weight * WARP.cup ** 2 * (v * v - vv);
    twist += weight * WARP.twist ** 2 * u * v;
  });
  return (p) => {
    const [u, v] = field.toField(p);
    let rest = 0;
    for (let i = 0; i < weights.length; i++) {
      const apart = (u - (spots[2 * i] as number)) ** 2 + (v - (spots[2 * i + 1] as number)) ** 2;
      rest += (weights[i] as number) * Math.exp(-apart / (2 * REACH * REACH));
    }
    return bow * (u * u - uu) + cup * (v * v - vv) + twist * u * v + WARP.rest ** 2 * rest;
  };
}

/** How far the slab reaches in a photo that shows it whole: along nearly all of it, across a quarter of its length or less. */
const FILL = 0.9;
const WIDTH_SHARE = 0.22;

function fieldOf(camera: Camera, width: number, height: number): Field {
  const middle: Point<'photo'> = [(width - 1) / 2, (height - 1) / 2];
  const along: Point<'photo'> = width >= height ? [width / 4, 0] : [0, height / 4];
  const [from, at, to] = [-1, 0, 1].map((k) => camera.place([middle[0] + k * along[0], middle[1] + k * along[1]], 0));
  // A photo whose middle half is above the horizon tells nothing; any frame will do.
  const [x, y] = at ?? [0, 0];
  const [dx, dy] = from && to ? [to[0] - from[0], to[1] - from[1]] : [1000, 0];
  const quarter = Math.hypot(dx, dy) / 2;
  const [c, s] = [dx / (2 * quarter), dy / (2 * quarter)];
  const half = 2 * quarter * FILL;
  return {
    toField: (p) => [c * (p[0] - x) + s * (p[1] - y), -s * (p[0] - x) + c * (p[1] - y)],
    meanSquare: [half ** 2 / 3, (half * WIDTH_SHARE) ** 2 / 3],
  };
}
