import type { Point } from '../geometry';
import type { Calibration } from '../job';
import { sigmaGrid } from './calibrate';
import { Camera } from './camera';
import { onFace, type Pose } from './marks';
import { measuring } from './measure';
import { reliefOf } from './relief';

/** A calibration seen from another frame of the face. */

const N = Camera.SIZE;

/** A camera over a frame in which its own lies at `frame`. */
export function overFrame(camera: Camera, { at, radians }: Pose): Camera {
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  return camera.reframed([-c * at[0] - s * at[1], s * at[0] - c * at[1]], -radians);
}

/** Covariance of a camera's parameters from that of what it is made of (propagation along straight lines). */
export function spread(
  camera: (p: Float64Array) => Camera,
  p: Float64Array,
  step: Float64Array,
  of: readonly number[],
  covariance: ArrayLike<number>,
  inflation: number,
): number[] {
  const n = p.length;
  const columns = of.map((k) => {
    const [plus, minus] = [Float64Array.from(p), Float64Array.from(p)];
    const by = step[k] as number;
    plus[k] = (plus[k] as number) + by;
    minus[k] = (minus[k] as number) - by;
    const [a, b] = [camera(plus).p, camera(minus).p];
    return nearTurn(a, b).map((value, i) => (value - (b[i] as number)) / (2 * by));
  });
  return Array.from({ length: N * N }, (_, cell) => {
    const [i, j] = [Math.floor(cell / N), cell % N];
    let sum = 0;
    of.forEach((k, a) => {
      of.forEach((l, b) => {
        sum += (columns[a]?.[i] as number) * (columns[b]?.[j] as number) * (covariance[k * n + l] as number);
      });
    });
    return inflation * sum;
  });
}

/** Parameters with their turn written as the one, of the two ways to write it, that is nearer to another's: half a turn is both. */
function nearTurn(p: Float64Array, like: Float64Array): Float64Array {
  const angle = Math.hypot(p[0] as number, p[1] as number, p[2] as number);
  const out = Float64Array.from(p);
  const dot = [0, 1, 2].reduce((sum, k) => sum + (p[k] as number) * (like[k] as number), 0);
  if (dot >= 0 || angle < 1) return out;
  for (let k = 0; k < 3; k++) out[k] = (p[k] as number) * (1 - (2 * Math.PI) / angle);
  return out;
}

/** A calibration with its camera over another frame. */
export function placed(
  calibration: Calibration,
  camera: Camera,
  covariance: number[],
  move: (p: Point<'face'>) => Point<'face'>,
): Calibration {
  const { width, height } = calibration;
  const relief = calibration.relief?.map(({ at, z }) => ({ at: move(at), z })) ?? null;
  const view = measuring(camera, covariance, reliefOf(camera, width, height, relief));
  return {
    ...calibration,
    homography: camera.homography(),
    centre: camera.centre,
    parameters: [...camera.p],
    covariance,
    relief,
    sigma: sigmaGrid(view, width, height),
  };
}

/** A calibration over a frame in which its own lies at `frame`, its covariance with it. */
export function reframedCalibration(calibration: Calibration, frame: Pose): Calibration {
  const p = Float64Array.from(calibration.parameters);
  const step = Float64Array.from(Camera.STEP);
  const overFace = (q: Float64Array) => overFrame(new Camera(q), frame);
  const all = Array.from({ length: N }, (_, k) => k);
  const covariance = spread(overFace, p, step, all, calibration.covariance, 1);
  return placed(calibration, overFace(p), covariance, (at) => onFace(frame, at));
}
