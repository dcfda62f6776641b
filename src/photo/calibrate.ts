import type { Point } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import { adjust, type Problem } from './adjustment';
import { beginning } from './beginning';
import { Camera } from './camera';
import type { Cv } from './cv';
import { LEARNT_WELL, lensBelief } from './lens';
import type { Pose } from './marks';
import { type Measure, measuring } from './measure';
import { referenceOf } from './reference';
import { type Relief, type ReliefReading, reliefOf } from './relief';
import { ON_BENCH, seatOn } from './seat';
import { cull, inflation, type Solution, weighed } from './solve';
import { tapeRow } from './tapes';

export interface CalibrateOptions {
  /** Focal length in 35 mm terms, as the photo's EXIF gives it (FocalLengthIn35mmFormat). */
  readonly exifFocal35?: number;
}

/** A taped height of the camera is off by this, mm, and at least by this share. */
const HEIGHT_SIGMA = { mm: 10, share: 0.01 };

/**
 * Finds the camera over the mean plane of a slab's face, its lens, and how sure both are, from the reference that lies on the face.
 * The frame is that of the given mm; where none are given it is ours: origin amid the marks, x along the slab as far as the marks (or
 * else the photo's longer side) tell, y clockwise from it as the camera sees it.
 * @param scale the reference (COMMANDS, trace), already validated
 * @throws InputProblem when the reference is not found, is blurred, contradicts itself or does not determine the face
 */
export function calibrate(cv: Cv, photo: Raster, scale: Scale, options: CalibrateOptions = {}): Calibration {
  const { width, height } = photo;
  const drop = scale.drop ?? 0;
  const lens = lensBelief(width, height, scale.lens, options.exifFocal35);
  const reference = referenceOf(cv, photo, scale, lens);
  const { marks, begin } = beginning(reference, lens, drop, width, height);
  const cameraHeight = scale.cameraHeight;
  const problem: Problem = {
    marks,
    tapes: [],
    lens,
    drop,
    height: cameraHeight
      ? { mean: cameraHeight, sigma: Math.max(HEIGHT_SIGMA.mm, HEIGHT_SIGMA.share * cameraHeight) }
      : null,
    edgeSigma: { outer: 0.1, inner: 0.1 },
    pointScale: 1,
  };
  const culled = cull(problem, begin, reference);
  const { relief, readings, solution } = seated(culled, scale.heights ?? null, width, height);
  const { final, refused } = withTapes(weighed(solution, reference.leastEdgeSigma), scale, relief);
  return reportOf(
    { ...final, outliers: [...reference.leftOut, ...final.outliers] },
    readings,
    refused,
    relief,
    scale,
    width,
    height,
  );
}

/** The adjustment with the wood's relief under the marks, which in turn depends on where they lie. */
function seated(
  { problem, state: flat, outliers }: Solution,
  heights: readonly { readonly px: Point<'photo'>; readonly z: number }[] | null,
  width: number,
  height: number,
): { relief: Relief; readings: ReliefReading[] | null; solution: Solution } {
  let state = flat;
  let relief = reliefOf(state.camera, width, height, null);
  let readings: ReliefReading[] | null = null;
  let current = problem;
  for (let round = 0; round < 2; round++) {
    const { camera, poses } = state;
    readings = heights?.map(({ px, z }, i) => ({ at: placeOf(camera, px, -z, `/heights/${i}/px`), z })) ?? null;
    relief = reliefOf(camera, width, height, readings);
    const seatOf = (i: number) => (problem.drop === 0 ? seatOn(relief, (poses[i] as Pose).at) : ON_BENCH);
    current = { ...problem, marks: problem.marks.map((mark, i) => ({ ...mark, ...seatOf(i) })) };
    state = adjust(current, state);
  }
  return { relief, readings, solution: { problem: current, state, outliers } };
}

function placeOf(camera: Camera, px: Point<'photo'>, z: number, where: string): Point<'face'> {
  const at = camera.place(px, z);
  if (at) return at;
  throw new InputProblem(
    `The pixel ${px[0]}, ${px[1]} does not lie on the slab's plane.`,
    where,
    'Click a point on the wood.',
  );
}

/** Takes tape checks into the fit, except those that disagree with it. */
function withTapes(
  solution: Solution,
  scale: Scale,
  relief: Relief,
): { final: Solution; refused: Calibration['refused'] } {
  const refused: Calibration['refused'] = [];
  const view = viewOf(solution, relief);
  const tapes = (scale.distances ?? []).flatMap(({ px, length }, i) => {
    const row = tapeRow(view, relief, px, length, `/distances/${i}/px`);
    const off = row.seen - length;
    if (Math.abs(off) <= AGREES * Math.hypot(row.seenSigma, row.sigma)) return [row];
    refused.push({ distance: i + 1, mm: off });
    return [];
  });
  if (tapes.length === 0) return { final: solution, refused };
  const problem = { ...solution.problem, tapes };
  return { final: { ...solution, problem, state: adjust(problem, solution.state) }, refused };
}

/** A tape check that misses by more sigmas than this was misread, or clicked on something else. */
const AGREES = 3.5;

/** The camera's own part of the covariance, row by row. */
function covarianceOf({ problem, state }: Solution): number[] {
  const all = Math.sqrt(state.fit.covariance.length);
  const scale = inflation(problem, state);
  return Array.from({ length: Camera.SIZE ** 2 }, (_, k) => {
    const [i, j] = [Math.floor(k / Camera.SIZE), k % Camera.SIZE];
    return scale * (state.fit.covariance[i * all + j] as number);
  });
}

function viewOf(solution: Solution, relief: Relief): Measure {
  return measuring(solution.state.camera, covarianceOf(solution), relief);
}

function reportOf(
  solution: Solution,
  readings: ReliefReading[] | null,
  refused: Calibration['refused'],
  relief: Relief,
  scale: Scale,
  width: number,
  height: number,
): Calibration {
  const { camera } = solution.state;
  const covariance = covarianceOf(solution);
  const view = measuring(camera, covariance, relief);
  const sd = (k: number) => Math.sqrt(covariance[k * Camera.SIZE + k] as number);
  const learnt = scale.lens || (sd(6) < LEARNT_WELL.focal * camera.focal && sd(7) < LEARNT_WELL.k1);
  return {
    width,
    height,
    homography: camera.homography(),
    lens: learnt ? { focal: camera.focal / Math.max(width, height), k1: camera.k1 } : null,
    centre: camera.centre,
    parameters: [...camera.p],
    covariance,
    residualPx: residualPx(solution),
    relief: readings,
    sigma: sigmaGrid(view, width, height),
    outliers: [...solution.outliers, ...refused.map(({ distance }) => `distance ${distance}`)],
    refused,
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
function sigmaGrid(view: Measure, width: number, height: number): Calibration['sigma'] {
  const spots: Calibration['sigma'] = [];
  for (let j = 0; j < 5; j++) {
    for (let i = 0; i < 7; i++) {
      const seen = view.toFace([((i + 0.5) / 7) * width - 0.5, ((j + 0.5) / 5) * height - 0.5]);
      if (seen && Number.isFinite(seen.sigma)) spots.push({ at: seen.mm, mm: seen.sigma });
    }
  }
  return spots;
}
