import type { EvenFace } from '../../src/grain/even-faces';
import type { FacePicture } from '../../src/raster';
import type { Place } from './seam-pairs';

/**
 * Published measures of how well two edges of pictures go on from each other, written down plainly to be held against ours on the same pairs. They
 * read the pixels next to the joint, 1 mm each, in the same evened light.
 */

/** Three planes of one picture: RGB or CIELAB. */
export interface Colours {
  readonly width: number;
  readonly x0: number;
  readonly y0: number;
  readonly channels: readonly [ArrayLike<number>, ArrayLike<number>, ArrayLike<number>];
  readonly wood: Uint8Array;
}

export const labOf = ({ width, x0, y0, L, a, b, wood }: EvenFace): Colours => ({
  width,
  x0,
  y0,
  channels: [L, a, b],
  wood,
});

export function rgbOf({ raster, x0, y0 }: FacePicture, { wood }: EvenFace): Colours {
  const { width, data } = raster;
  const plane = (k: number) => Float32Array.from(wood, (_, i) => data[3 * i + k] as number);
  return { width, x0, y0, channels: [plane(0), plane(1), plane(2)], wood };
}

type Triple = [number, number, number];

/** Colours of the row `deep` rows away from the line, on the kept side; null where there is no sound wood. */
function pixel(of: Colours, place: Place, along: number, deep: number, less: boolean): Triple | null {
  const r = Math.round(place.y - of.y0) + (less ? -1 - deep : deep);
  const i = r * of.width + Math.round(place.x - of.x0) + along;
  return of.wood[i] ? (of.channels.map((channel) => channel[i]) as Triple) : null;
}

/** Mean squared difference of the two pixel rows that meet (as in Cho, Avidan and Freeman 2010, there in CIELAB). */
export function boundaryDifference(faces: readonly Colours[], length: number) {
  return (side: Place, other: Place): number => {
    const [p, q] = [faces[side.face] as Colours, faces[other.face] as Colours];
    let [sum, n] = [0, 0];
    for (let k = 0; k < length; k++) {
      const here = pixel(p, side, k, 0, true);
      const there = pixel(q, other, k, 0, false);
      if (!here || !there) continue;
      for (const c of [0, 1, 2] as const) sum += (here[c] - there[c]) ** 2;
      n++;
    }
    return n > 0 ? sum / n : Infinity;
  };
}

/** Gallagher's nine gradients that keep the covariance from being singular. */
const DUMMIES: readonly Triple[] = [
  [0, 0, 0],
  [1, 1, 1],
  [-1, -1, -1],
  [0, 0, 1],
  [0, 1, 0],
  [1, 0, 0],
  [-1, 0, 0],
  [0, -1, 0],
  [0, 0, -1],
];

/**
 * Mahalanobis gradient compatibility (Gallagher 2012, Jigsaw puzzles with pieces of unknown orientation, CVPR): the gradient across the
 * joint against the mean and covariance of the gradients that lead up to it, from both sides.
 */
export function gradientCompatibility(faces: readonly Colours[], length: number) {
  const half = (of: Colours, from: Place, less: boolean, to: Colours, other: Place): number => {
    const rows = Array.from({ length }, (_, k) => ({
      near: pixel(of, from, k, 0, less),
      far: pixel(of, from, k, 1, less),
      over: pixel(to, other, k, 0, !less),
    }));
    const leading = rows.flatMap(({ near, far }) => (near && far ? [minus(near, far)] : []));
    if (leading.length === 0) return Infinity;
    const mean = meanOf(leading);
    const inverse = inverted(covariance([...leading, ...DUMMIES]));
    let [sum, n] = [0, 0];
    for (const { near, over } of rows) {
      if (!near || !over) continue;
      sum += quadratic(inverse, minus(minus(over, near), mean));
      n++;
    }
    return n > 0 ? sum / n : Infinity;
  };
  return (side: Place, other: Place): number => {
    const [p, q] = [faces[side.face] as Colours, faces[other.face] as Colours];
    return half(p, side, true, q, other) + half(q, other, false, p, side);
  };
}

const minus = (p: Triple, q: Triple): Triple => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
const meanOf = (all: readonly Triple[]): Triple =>
  [0, 1, 2].map((c) => all.reduce((sum, one) => sum + (one[c] as number), 0) / all.length) as Triple;

function covariance(all: readonly Triple[]): Triple[] {
  const mean = meanOf(all);
  return [0, 1, 2].map((i) =>
    [0, 1, 2].map(
      (j) =>
        all.reduce(
          (sum, one) => sum + ((one[i] as number) - (mean[i] as number)) * ((one[j] as number) - (mean[j] as number)),
          0,
        ) /
        (all.length - 1),
    ),
  ) as Triple[];
}

/** Inverse of a 3 by 3 matrix by its cofactors. */
function inverted(m: readonly Triple[]): Triple[] {
  const at = (r: number, c: number) => m[r % 3]?.[c % 3] as number;
  const cofactor = (r: number, c: number) => at(r + 1, c + 1) * at(r + 2, c + 2) - at(r + 1, c + 2) * at(r + 2, c + 1);
  const determinant = at(0, 0) * cofactor(0, 0) + at(0, 1) * cofactor(0, 1) + at(0, 2) * cofactor(0, 2);
  return [0, 1, 2].map((r) => [0, 1, 2].map((c) => cofactor(c, r) / determinant)) as Triple[];
}

const quadratic = (m: readonly Triple[], v: Triple): number =>
  [0, 1, 2].reduce((sum, i) => sum + v[i as 0] * (m[i] as Triple).reduce((s, x, j) => s + x * (v[j] as number), 0), 0);
