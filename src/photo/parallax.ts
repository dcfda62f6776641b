import type { Point } from '../geometry';
import type { Calibration } from '../job';
import { Camera } from './camera';

/** What a height off the plane does to places, mm. */
export interface Parallax {
  /** Shift of the spot in the photo's middle. */
  readonly middle: number;
  /** The largest shift, and where (on the face's plane). */
  readonly worst: number;
  readonly at: Point<'face'>;
  /** How much a length measured over it comes out wrong, as a share: the height over the camera's. */
  readonly share: number;
  /** Height of the camera over the plane of the face, and one standard deviation: where that is large, a taped height helps. */
  readonly cameraHeight: number;
  readonly cameraHeightSigma: number;
}

/** Spots along each side of the photo's frame at which the worst is sought, where no wood is given. */
const STEPS = 8;

/**
 * How far spots seem to move when what the photo shows there lies off the plane of the face by `off` mm: a reference on the floor, a
 * wane, a warp. A spot is shifted along the line from the foot of the camera by off / (camera height - off) of its distance from it
 * (similar triangles), so nothing moves straight below the camera.
 * @param off mm towards the camera (above zero) or away from it (below zero); the shifts are given without a sign
 * @param wood spots that count, mm on the face, such as the outline; left out, the whole photo counts
 */
export function parallax(calibration: Calibration, off: number, wood?: readonly Point<'face'>[]): Parallax {
  const camera = new Camera(Float64Array.from(calibration.parameters));
  const [x, y, z] = camera.position;
  const cameraHeight = -z;
  const shift = (at: Point<'face'>) => Math.abs((off / (cameraHeight - off)) * Math.hypot(at[0] - x, at[1] - y));
  const { width, height } = calibration;
  const place = (i: number, j: number) => camera.place([(i * (width - 1)) / STEPS, (j * (height - 1)) / STEPS], 0);
  const middle = place(STEPS / 2, STEPS / 2) ?? [x, y];
  const spots =
    wood ??
    Array.from({ length: (STEPS + 1) ** 2 }, (_, k) => place(k % (STEPS + 1), Math.floor(k / (STEPS + 1)))).filter(
      (spot) => spot !== null,
    );
  const at = spots.reduce((worst, spot) => (shift(spot) > shift(worst) ? spot : worst), spots[0] ?? middle);
  return {
    middle: shift(middle),
    worst: shift(at),
    at,
    share: Math.abs(off) / cameraHeight,
    cameraHeight,
    cameraHeightSigma: heightSigma(calibration),
  };
}

/** By the covariance of the camera's parameters. */
function heightSigma({ parameters, covariance }: Calibration): number {
  const slope = Camera.STEP.map((step, k) => {
    const moved = (by: number) => {
      const p = Float64Array.from(parameters);
      p[k] = (p[k] as number) + by;
      return new Camera(p).position[2];
    };
    return (moved(step) - moved(-step)) / (2 * step);
  });
  const n = Camera.SIZE;
  const square = slope.reduce(
    (sum, a, i) => sum + slope.reduce((s, b, j) => s + a * b * (covariance[i * n + j] as number), 0),
    0,
  );
  return Math.sqrt(square);
}
