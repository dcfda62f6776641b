import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import { Camera } from './camera';
import type { Cv } from './cv';
import { lensBelief } from './lens';
import { measuring } from './measure';
import { markerMarks } from './reference-markers';
import { FLAT } from './relief';
import { solve } from './solve';
import { ownFrame, reframed, roughly } from './start';

export interface CalibrateOptions {
  /** Focal length in 35 mm terms, as the photo's EXIF gives it. */
  readonly exifFocal35?: number;
}

/** Calibrates a photo by the reference in it. */
export function calibrate(cv: Cv, photo: Raster, scale: Scale, options: CalibrateOptions = {}): Calibration {
  if (scale.kind !== 'markers') throw new Error('todo');
  const { width, height } = photo;
  const drop = scale.drop ?? 0;
  const lens = lensBelief(width, height, scale.lens, options.exifFocal35);
  const { marks, rough } = markerMarks(cv, photo, scale);
  const first = roughly(rough, lens, drop);
  const start = reframed(first.camera, first.poses, ownFrame(first.camera, rough, first.poses, width, height));
  const problem = { marks, tapes: [], lens, drop, height: null, edgeSigma: { outer: 0.1, inner: 0.1 } };
  const solution = solve(problem, start, 3);
  const { state } = solution;
  const n = Camera.SIZE;
  const all = Math.sqrt(state.fit.covariance.length);
  const covariance: number[] = [];
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) covariance.push((state.fit.covariance[i * all + j] as number) * solution.inflation);
  const m = measuring(state.camera, covariance, FLAT);
  void m;
  return {
    width, height,
    homography: state.camera.homography(),
    lens: { focal: state.camera.focal / Math.max(width, height), k1: state.camera.k1 },
    centre: state.camera.centre,
    parameters: [...state.camera.p],
    covariance,
    residualPx: solution.problem.edgeSigma.outer,
    relief: null,
    sigma: [],
    outliers: [...solution.outliers],
    refused: [],
  };
}
