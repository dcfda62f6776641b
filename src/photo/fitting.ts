import type { Point } from '../geometry';
import type { Calibration, Scale } from '../job';
import { InputProblem } from '../units';
import { adjust, type LensBelief, type Problem } from './adjustment';
import { beginning } from './beginning';
import { Camera } from './camera';
import type { Pose } from './marks';
import { measuring } from './measure';
import { whyLeftOut } from './reasons';
import type { Reference } from './reference-type';
import { type Relief, type ReliefReading, reliefOf } from './relief';
import { ON_BENCH, seatOn } from './seat';
import { cull, inflation, type Solution, weighed } from './solve';
import { tapeRow } from './tapes';

/** What is believed of the lens: by the photo itself and its EXIF, and by the lens that was given, if one was. */
export interface LensBeliefs {
  readonly own: LensBelief;
  readonly given: LensBelief | null;
}

/** A reference fitted: camera, marks and wood, and what did not agree. */
export interface Fitted {
  readonly solution: Solution;
  readonly relief: Relief;
  readonly readings: ReliefReading[] | null;
  readonly refused: Calibration['refused'];
  /** Whether the marks speak against the lens that was given, so that it was not used. */
  readonly lensRefused: boolean;
  /** Why marks were left out, where it can be told. */
  readonly reasons: { readonly name: string; readonly why: string }[];
}

/** What else was said of the photo. */
type Evidence = Pick<Scale, 'drop' | 'cameraHeight' | 'heights' | 'distances'>;

/** A taped height of the camera is off by this, mm, and at least by this share. */
const HEIGHT_SIGMA = { mm: 10, share: 0.01 };

/**
 * A lens that was given is refused where the marks fit so much better with one of their own: chi-square of two degrees of freedom
 * (focal, k1) that one photo in a thousand passes by chance.
 */
const AGAINST_LENS = 13.8;

/**
 * Fits camera, marks and wood to what a photo shows of its reference.
 * @throws InputProblem when the reference contradicts itself or does not determine the face
 */
export function fitted(reference: Reference, lens: LensBeliefs, scale: Scale, width: number, height: number): Fitted {
  const drop = scale.drop ?? 0;
  const { marks, begin } = beginning(reference, lens.given ?? lens.own, drop, width, height);
  const { cameraHeight } = scale;
  const problem: Problem = {
    marks,
    tapes: [],
    ...(reference.between && { between: reference.between }),
    lens: lens.own,
    bias: reference.bias,
    drop,
    height: cameraHeight
      ? { mean: cameraHeight, sigma: Math.max(HEIGHT_SIGMA.mm, HEIGHT_SIGMA.share * cameraHeight) }
      : null,
    edgeSigma: { outer: 0.1, inner: 0.1 },
    pointScale: 1,
  };
  const culled = lensSettled(problem, lens.given, begin, reference);
  const { relief, readings, solution } = seated(culled.solution, scale.heights ?? null, width, height);
  const { final, refused } = withTapes(weighed(solution, reference.leastEdgeSigma), scale, relief, reference.doubt);
  const reasons = marks.flatMap((mark) => {
    const why = final.outliers.includes(mark.name) && whyLeftOut(mark, final);
    return why ? [{ name: mark.name, why }] : [];
  });
  return { solution: final, relief, readings, refused, lensRefused: culled.lensRefused, reasons };
}

/** The fit with the lens that was given, unless the marks speak against it. */
function lensSettled(
  problem: Problem,
  given: LensBelief | null,
  begin: ReturnType<typeof beginning>['begin'],
  reference: Reference,
): { solution: Solution; lensRefused: boolean } {
  const free = cull(problem, begin, reference);
  if (!given) return { solution: free, lensRefused: false };
  const told = adjust({ ...free.problem, lens: given }, free.state);
  const against = (told.fit.cost - free.state.fit.cost) / inflation(free.problem, free.state);
  if (against > AGAINST_LENS) return { solution: free, lensRefused: true };
  return { solution: cull({ ...problem, lens: given }, begin, reference), lensRefused: false };
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
  scale: Evidence,
  relief: Relief,
  doubt: Reference['doubt'],
): { final: Solution; refused: Calibration['refused'] } {
  const refused: Calibration['refused'] = [];
  const view = measuring(solution.state.camera, covarianceOf(solution, doubt), relief);
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

/** The camera's own part of the covariance, row by row, with what the reference says of it besides. */
export function covarianceOf({ problem, state }: Solution, doubt?: Reference['doubt']): number[] {
  const all = Math.sqrt(state.fit.covariance.length);
  const scale = inflation(problem, state);
  return Array.from({ length: Camera.SIZE ** 2 }, (_, k) => {
    const [i, j] = [Math.floor(k / Camera.SIZE), k % Camera.SIZE];
    return scale * (state.fit.covariance[i * all + j] as number) + (doubt?.[k] ?? 0);
  });
}
