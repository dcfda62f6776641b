import type { Point } from '../geometry';
import type { Calibration } from '../job';
import { cholesky } from '../surface';
import { Camera } from './camera';
import { minimise } from './least-squares';
import { onFace, type Pose, rigidFit } from './marks';
import { type Relief, reliefOf } from './relief';
import { overFrame, placed, spread } from './stitch-frame';
import type { Sighting } from './stitch-sightings';

/**
 * Photos of one face brought into one frame. Each was measured by itself, in a frame of its own; what two of them show of the same spot is
 * one spot. Joint least squares over all cameras, each held by the covariance of its own calibration, the frames' shifts and turns, and how
 * far each shared mark stands out of the face, which two views see apart: combination of adjustments by their normal equations (Helmert's
 * blocks; Mikhail 1976).
 */
export interface TieShot {
  readonly calibration: Calibration;
  readonly sightings: readonly Sighting[];
}

export interface Tie {
  /** The calibrations over the face, in the order of the shots; the frame is that of the first. */
  readonly calibrations: readonly Calibration[];
  /** Squared misfit in sigmas, and how many equations it is of. */
  readonly cost: number;
  readonly equations: number;
  /** How many marks are shared. */
  readonly marks: number;
  /** What shared marks miss each other by after the fit, mm (root of the mean of squares). */
  readonly residual: number;
}

/** Cards bend, and lie a little askew: nothing is shared to better than this, mm. */
const LEAST_SIGMA = 0.15;
/** Steps for differences, in sigmas and in mm and radians. */
const STEP = { sigma: 1e-2, mm: 1e-3, radians: 1e-6 };

/** A mark in two shots. */
interface Shared {
  readonly name: string;
  readonly of: readonly [number, number];
  readonly seen: readonly [Sighting, Sighting];
}

/** Marks that two of the shots share, each as often as shots that follow each other show it. */
function sharedOf(shots: readonly TieShot[]): Shared[] {
  const places = new Map<string, number[]>();
  shots.forEach(({ sightings }, i) => {
    for (const { name } of sightings) places.set(name, [...(places.get(name) ?? []), i]);
  });
  return [...places].flatMap(([name, of]) =>
    of.slice(1).map((b, k): Shared => {
      const a = of[k] as number;
      const by = (i: number) => shots[i]?.sightings.find((sighting) => sighting.name === name) as Sighting;
      return { name, of: [a, b], seen: [by(a), by(b)] };
    }),
  );
}

/** A shot ready for the fit. */
interface Ready {
  readonly camera: Camera;
  /** Lower root of the covariance of its parameters, row by row. */
  readonly root: Float64Array;
  readonly relief: Relief;
}

const N = Camera.SIZE;

/**
 * Ties shots by the marks that they share; null where some shot shares none, or too little (a single point does not say how it is turned),
 * with those that the first leads to.
 */
export function tie(shots: readonly TieShot[]): Tie | null {
  const shared = sharedOf(shots);
  const ready = shots.map(({ calibration }): Ready => {
    const camera = new Camera(Float64Array.from(calibration.parameters));
    const relief = reliefOf(camera, calibration.width, calibration.height, calibration.relief);
    return { camera, root: rootOf(calibration.covariance, N), relief };
  });
  const frames = layOut(ready, shared);
  if (!frames) return null;
  const names = [...new Set(shared.map(({ name }) => name))];
  const heights = heightsOf(ready, shared, names);
  const framesFrom = N * ready.length;
  const heightsFrom = framesFrom + 3 * (ready.length - 1);
  const start = new Float64Array(heightsFrom + names.length);
  const step = new Float64Array(start.length).fill(STEP.sigma);
  frames.slice(1).forEach(({ at, radians }, i) => {
    start.set([...at, radians], framesFrom + 3 * i);
    step.set([STEP.mm, STEP.mm, STEP.radians], framesFrom + 3 * i);
  });
  const cameraAt = (p: Float64Array, i: number): Camera => {
    const { camera, root } = ready[i] as Ready;
    const moved = Float64Array.from(camera.p);
    for (let r = 0; r < N; r++) {
      for (let c = 0; c <= r; c++)
        moved[r] = (moved[r] as number) + (root[r * N + c] as number) * (p[i * N + c] as number);
    }
    return new Camera(moved);
  };
  const frameAt = (p: Float64Array, i: number): Pose => {
    if (i === 0) return { at: [0, 0], radians: 0 };
    const from = framesFrom + 3 * (i - 1);
    return { at: [p[from] as number, p[from + 1] as number], radians: p[from + 2] as number };
  };
  const heightAt = (p: Float64Array, k: number): number => {
    let sum = heights.mean[k] as number;
    for (let c = 0; c <= k; c++) sum += (heights.root[k * names.length + c] as number) * (p[heightsFrom + c] as number);
    return sum;
  };
  const sigmas = shared.map(({ of, seen }) =>
    Math.hypot(
      LEAST_SIGMA,
      ...of.map((i, k) => (seen[k] as Sighting).sigma * detailAt(ready[i] as Ready, seen[k] as Sighting)),
    ),
  );
  const misses = 2 * shared.reduce((sum, { seen }) => sum + seen[0].px.length, 0);
  const residuals = (p: Float64Array, out: Float64Array): void => {
    const cameras = ready.map((_, i) => cameraAt(p, i));
    const poses = ready.map((_, i) => frameAt(p, i));
    let at = 0;
    shared.forEach(({ name, of, seen }, s) => {
      const height = heightAt(p, names.indexOf(name));
      const place = (k: 0 | 1, corner: number): Point<'face'> | null => {
        const { px, below } = seen[k];
        const own = (cameras[of[k]] as Camera).place(px[corner] as Point<'photo'>, below - height);
        return own && onFace(poses[of[k]] as Pose, own);
      };
      seen[0].px.forEach((_, corner) => {
        const [a, b] = [place(0, corner), place(1, corner)];
        out[at++] = a && b ? (a[0] - b[0]) / (sigmas[s] as number) : 1e3;
        out[at++] = a && b ? (a[1] - b[1]) / (sigmas[s] as number) : 1e3;
      });
    });
    for (let k = 0; k < framesFrom; k++) out[at++] = p[k] as number;
    for (let k = heightsFrom; k < p.length; k++) out[at++] = p[k] as number;
  };
  const fit = minimise({ start, step, rows: misses + framesFrom + names.length, residuals });
  const equations = misses - 3 * (ready.length - 1);
  const inflation = Math.max(1, fit.cost / Math.max(1, equations));
  let squares = 0;
  let row = 0;
  shared.forEach(({ seen }, s) => {
    for (let k = 0; k < 2 * seen[0].px.length; k++)
      squares += ((fit.residuals[row++] as number) * (sigmas[s] as number)) ** 2;
  });
  return {
    cost: fit.cost,
    equations,
    marks: names.length,
    residual: Math.sqrt((2 * squares) / Math.max(1, misses)),
    calibrations: shots.map(({ calibration }, i) => {
      const overFace = (p: Float64Array) => overFrame(cameraAt(p, i), frameAt(p, i));
      const camera = overFace(fit.p);
      const own = Array.from({ length: N }, (_, k) => i * N + k);
      const frame = i === 0 ? [] : [0, 1, 2].map((k) => framesFrom + 3 * (i - 1) + k);
      const covariance = spread(overFace, fit.p, step, [...own, ...frame], fit.covariance, inflation);
      const pose = frameAt(fit.p, i);
      return placed(calibration, camera, covariance, (p) => onFace(pose, p));
    }),
  };
}

/** Lower root of a covariance whose parameters differ in size by many powers of ten. */
function rootOf(covariance: ArrayLike<number>, n: number): Float64Array {
  const size = Array.from({ length: n }, (_, k) => Math.sqrt(Math.max(covariance[k * n + k] as number, 1e-30)));
  const whitened = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const both = ((covariance[i * n + j] as number) + (covariance[j * n + i] as number)) / 2;
      whitened[i * n + j] = both / ((size[i] as number) * (size[j] as number)) + (i === j ? 1e-9 : 0);
    }
  }
  return cholesky(whitened, n).map((value, k) => value * (size[Math.floor(k / n)] as number));
}

/** Where each shot's frame lies in the first one's, as the shared marks tell roughly; null where some shot is not tied. */
function layOut(ready: readonly Ready[], shared: readonly Shared[]): Pose[] | null {
  const frames: (Pose | null)[] = ready.map((_, i) => (i === 0 ? { at: [0, 0], radians: 0 } : null));
  const seenBy = (i: number, { px, below }: Sighting) =>
    px.map((corner) => (ready[i] as Ready).camera.place(corner, below) ?? ([0, 0] as Point<'face'>));
  for (let round = 1; round < ready.length; round++) {
    ready.forEach((_, i) => {
      if (frames[i]) return;
      const [own, theirs]: [Point<'face'>[], Point<'face'>[]] = [[], []];
      for (const { of, seen } of shared) {
        const k = of.indexOf(i);
        const other = frames[of[1 - k] as number];
        if (k < 0 || !other) continue;
        own.push(...seenBy(i, seen[k] as Sighting));
        theirs.push(...seenBy(of[1 - k] as number, seen[1 - k] as Sighting).map((p) => onFace(other, p)));
      }
      if (own.length > 1) frames[i] = rigidFit(own, theirs);
    });
  }
  return frames.every((frame) => frame !== null) ? frames : null;
}

/** What is believed of how far each shared mark stands out: means, and the lower root of their covariance. */
function heightsOf(
  ready: readonly Ready[],
  shared: readonly Shared[],
  names: readonly string[],
): { mean: Float64Array; root: Float64Array } {
  const spots = names.map((name) => {
    const { of, seen } = shared.find((mark) => mark.name === name) as Shared;
    const { camera, relief } = ready[of[0]] as Ready;
    const corners = seen[0].px.map((px) => camera.place(px, seen[0].below) ?? ([0, 0] as Point<'face'>));
    const middle = (k: 0 | 1) => corners.reduce((sum, p) => sum + p[k], 0) / corners.length;
    return { at: [middle(0), middle(1)] as Point<'face'>, of: of[0], relief, onBench: seen[0].below !== 0 };
  });
  const n = names.length;
  const covariance = new Float64Array(n * n);
  spots.forEach((a, i) => {
    spots.forEach((b, j) => {
      const known = a.onBench || b.onBench;
      // Marks of one shot are doubted together, since its mean plane is; a bench is flat.
      const doubt = known || a.of !== b.of ? 0 : a.relief.doubt(a.at, b.at);
      covariance[i * n + j] = doubt + (i === j ? 0.01 : 0);
    });
  });
  return {
    mean: Float64Array.from(spots, ({ at, relief, onBench }) => (onBench ? 0 : relief.height(at))),
    root: rootOf(covariance, n),
  };
}

/** mm of the face that a pixel shows at a mark. */
function detailAt({ camera }: Ready, { px, below }: Sighting): number {
  const [u, v] = px[0] as Point<'photo'>;
  const [p, q, r] = [camera.place([u, v], below), camera.place([u + 1, v], below), camera.place([u, v + 1], below)];
  return p && q && r ? Math.max(Math.hypot(p[0] - q[0], p[1] - q[1]), Math.hypot(p[0] - r[0], p[1] - r[1])) : 1;
}

/** A way to tie shots, and the marks that it leaves out because they lie elsewhere in one of them. */
export interface TieWay {
  readonly tie: Tie;
  readonly moved: readonly string[];
}

/** A tie fits when its squared misfit is below this many times its equations, and this much. */
const FITS = { times: 3, more: 25 };

/**
 * The ways to tie shots, likeliest first: with all shared marks where they agree, else without those that do not. Of two marks that lie
 * differently either may have been moved: then there are two ways. Empty where shots share nothing.
 */
export function tieWays(shots: readonly TieShot[]): TieWay[] {
  const fits = ({ cost, equations }: Tie) => cost < FITS.times * Math.max(equations, 1) + FITS.more;
  const without = (moved: readonly string[]) =>
    tie(shots.map((shot) => ({ ...shot, sightings: shot.sightings.filter(({ name }) => !moved.includes(name)) })));
  const all = tie(shots);
  if (!all) return [];
  let ways: TieWay[] = [{ tie: all, moved: [] }];
  const names = [...new Set(sharedOf(shots).map(({ name }) => name))];
  while (ways[0] && !fits(ways[0].tie)) {
    const { moved } = ways[0];
    const next = names
      .filter((name) => !moved.includes(name))
      .flatMap((name) => {
        const tied = without([...moved, name]);
        return tied ? [{ tie: tied, moved: [...moved, name] }] : [];
      })
      .sort((a, b) => a.tie.cost - b.tie.cost);
    if (next.length === 0) break;
    const fitting = next.filter((way) => fits(way.tie));
    ways = fitting.length > 0 ? fitting : next.slice(0, 1);
  }
  return ways.filter((way) => fits(way.tie));
}
