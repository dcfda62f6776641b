import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import type { Cv } from './cv';
import { covarianceOf, type Fitted, fitted, type LensBeliefs } from './fitting';
import { lensBelief, lensLearnt } from './lens';
import { type Measure, measuring } from './measure';
import { referenceOf } from './reference';
import type { Reference } from './reference-type';
import type { Solution } from './solve';

export interface CalibrateOptions {
  /** Focal length in 35 mm terms, as the photo's EXIF gives it (FocalLengthIn35mmFormat). */
  readonly exifFocal35?: number;
}

/**
 * Finds the camera over the mean plane of a slab's face, its lens, and how sure both are, from the reference that lies on the face.
 * The frame is that of the given mm; where none are given it is ours: origin amid the marks, x along the slab as far as the marks (or
 * else the photo's longer side) tell, y clockwise from it as the camera sees it.
 * @param scale the reference (COMMANDS, trace), already validated
 * @throws InputProblem when the reference is not found, is blurred, contradicts itself or does not determine the face
 */
export function calibrate(cv: Cv, photo: Raster, scale: Scale, options: CalibrateOptions = {}): Calibration {
  return calibrateBy(sight(cv, photo, scale, options), photo, scale);
}

/** A reference as it was found in a photo, and what is believed of the lens that took it. */
interface Sighted extends LensBeliefs {
  readonly reference: Reference;
}

/** Finds the reference. @throws InputProblem as `calibrate` */
export function sight(cv: Cv, photo: Raster, scale: Scale, options: CalibrateOptions = {}): Sighted {
  const { width, height } = photo;
  const own = lensBelief(width, height, undefined, options.exifFocal35);
  const given = scale.lens ? lensBelief(width, height, scale.lens, options.exifFocal35) : null;
  return { own, given, reference: referenceOf(cv, photo, scale, given ?? own) };
}

/** `calibrate` with a reference that was found before: what else the scale says may have changed since. @throws InputProblem as `calibrate` */
export function calibrateBy(
  { reference, ...beliefs }: Sighted,
  { width, height }: Pick<Raster, 'width' | 'height'>,
  scale: Scale,
): Calibration {
  return reportOf(fitted(reference, beliefs, scale, width, height), reference, scale, width, height);
}

function reportOf(
  { solution, relief, readings, refused, lensRefused, reasons: told }: Fitted,
  { leftOut, doubt }: Reference,
  scale: Scale,
  width: number,
  height: number,
): Calibration {
  const { camera } = solution.state;
  const covariance = covarianceOf(solution, doubt);
  const view = measuring(camera, covariance, relief);
  const parameters = [...camera.p];
  const taught = (scale.lens && !lensRefused) || lensLearnt({ width, height, parameters, covariance });
  const reasons = [
    ...leftOut.map((name) => ({ name, why: 'its cells run into each other: too small in this photo, or blurred' })),
    ...told,
    ...refused.map(({ distance, mm }) => ({
      name: `distance ${distance}`,
      why: `the photo says it is ${Math.abs(mm).toFixed(1)} mm ${mm > 0 ? 'longer' : 'shorter'}`,
    })),
  ];
  return {
    width,
    height,
    homography: camera.homography(),
    lens: taught ? { focal: camera.focal / Math.max(width, height), k1: camera.k1 } : null,
    centre: camera.centre,
    parameters,
    covariance,
    residualPx: residualPx(solution),
    relief: readings,
    sigma: sigmaGrid(view, width, height),
    outliers: [...leftOut, ...solution.outliers, ...refused.map(({ distance }) => `distance ${distance}`)],
    refused,
    ...(reasons.length > 0 && { reasons }),
    ...(lensRefused && {
      lensRefused: `The lens that was given (focal ${scale.lens?.focal.toFixed(3)}) does not fit this photo, whose own marks speak for ${(camera.focal / Math.max(width, height)).toFixed(3)}. It was not used: the photo is another camera's, or was zoomed.`,
    }),
  };
}

/** Root of the mean square of what the sightings miss by, px. */
function residualPx({ problem: { marks, edgeSigma, pointScale }, state }: Solution): number {
  let [sum, count] = [0, 0];
  marks.forEach((mark, i) => {
    state.residuals[i]?.forEach((residual, k) => {
      const point = mark.points[Math.floor(k / 2)];
      const edge = mark.edges[k - mark.points.length * 2];
      const sigma = point ? point.sigma * pointScale : edge?.outer ? edgeSigma.outer : edgeSigma.inner;
      sum += (residual * sigma) ** 2;
      count++;
    });
  });
  return Math.sqrt(sum / Math.max(1, count));
}

/** One standard deviation at a few spots all over the photo. */
export function sigmaGrid(view: Measure, width: number, height: number): Calibration['sigma'] {
  const spots: Calibration['sigma'] = [];
  for (let j = 0; j < 5; j++) {
    for (let i = 0; i < 7; i++) {
      const seen = view.toFace([((i + 0.5) / 7) * width - 0.5, ((j + 0.5) / 5) * height - 0.5]);
      if (seen && Number.isFinite(seen.sigma)) spots.push({ at: seen.mm, mm: seen.sigma });
    }
  }
  return spots;
}
