import type { Point } from '../geometry';
import { type Between, offBetween } from './between';
import { Camera } from './camera';
import { type Fit, minimise } from './least-squares';
import { type EdgeSigma, type Local, type Mark, onFace, type Pose, type SeenEdge, UNCERTAIN_LINES } from './marks';

/**
 * The joint adjustment: camera and lens, the free places of the marks, how far each stands off the face's mean plane, their common size
 * error, and the one bias by which white grows over black at every edge of a photo. That bias and the scale cannot be told apart from
 * outer corners alone; inner cells of both polarities separate them.
 */

/** What is believed before looking: mean and one standard deviation. */
export interface Belief {
  readonly mean: number;
  readonly sigma: number;
}

export interface LensBelief {
  readonly focal: Belief;
  readonly k1: Belief;
  readonly k2: Belief;
  readonly centre: readonly [Belief, Belief];
}

/** A length taped between two spots of the photo, mm; `out` is how far each stands out of the mean plane, `sigma` covers tape and clicks. */
export interface TapeRow {
  readonly px: readonly [Point<'photo'>, Point<'photo'>];
  readonly length: number;
  readonly out: readonly [number, number];
  readonly sigma: number;
}

export interface Problem {
  readonly marks: readonly Mark[];
  readonly tapes: readonly TapeRow[];
  /** What is known of how marks lie to each other. */
  readonly between?: readonly Between[];
  readonly lens: LensBelief;
  /** How far white seems to grow over dark at edges, px. */
  readonly bias: Belief;
  /** How far the marks' plane lies below the face, mm. */
  readonly drop: number;
  /** Height of the camera over the marks' plane, mm, where known. */
  readonly height: Belief | null;
  readonly edgeSigma: EdgeSigma;
  /** What the points' own sigmas are multiplied by. */
  readonly pointScale: number;
}

/** Where an adjustment begins: what is left out begins at what is believed. */
export interface Start {
  readonly camera: Camera;
  readonly poses: readonly Pose[];
  /** White over black, px. */
  readonly bias?: number;
  /** Common size of the marks over their nominal one. */
  readonly size?: number;
  /** How far each uncertain line of the drawings is off, mm. */
  readonly lines?: readonly number[];
  /** How each mark sits. */
  readonly seats?: readonly Seat[];
}

/** How far a mark stands out, mm, and how it leans. */
interface Seat {
  readonly rise: number;
  readonly lean: Local;
}

export interface State extends Required<Start> {
  readonly fit: Fit;
  /** Whitened residuals of each mark's sightings (points two each, edges one each), after weighting. */
  readonly residuals: readonly Float64Array[];
}

/** Photos are taken roughly square to the slab: sine of the slant, one standard deviation. It matters where little else is known. */
const SLANT: Belief = { mean: 0, sigma: 0.4 };
/** A sighting farther off than this many sigma pulls no harder (Huber 1964). */
const HUBER = 3;

/** Parameters after the camera's: bias, size, the drawings' uncertain lines, then for every mark x, y, out, and, where it turns, turn, lean along x, lean along y. */
const LINES = Camera.SIZE + 2;

export function adjust(problem: Problem, start: Start, iterations?: number): State {
  const { marks, tapes, between = [], lens } = problem;
  const rowsOf = marks.map((mark) => mark.points.length * 2 + mark.edges.length);
  const sightings = rowsOf.reduce((sum, rows) => sum + rows, 0);
  const own = ownParameters(marks);
  const { shared } = own;
  const priors = 10 + (shared - LINES) + marks.length * 5 + 3;
  const p0 = new Float64Array(own.total);
  const step = new Float64Array(p0.length).fill(1e-3);
  p0.set(start.camera.p);
  step.set(Camera.STEP);
  p0[Camera.SIZE] = start.bias ?? problem.bias.mean;
  p0[Camera.SIZE + 1] = (start.size ?? 1) - 1;
  step[Camera.SIZE + 1] = 1e-6;
  p0.set(start.lines?.slice(0, shared - LINES) ?? [], LINES);
  start.poses.forEach(({ at, radians }, i) => {
    const mark = marks[i] as Mark;
    const { rise, lean } = start.seats?.[i] ?? { rise: mark.out, lean: mark.lean };
    const { turns } = mark;
    p0.set(turns ? [...at, rise, radians, ...lean] : [...at, rise], own.from[i]);
    if (turns) step.fill(1e-6, (own.from[i] as number) + 3, (own.from[i] as number) + 6);
  });
  const gauge = gaugeOf(marks, start.poses);
  const sizeSigma = Math.max(1e-9, ...marks.map((mark) => mark.sizeSigma));
  const lineSigma = Math.max(1e-6, ...marks.map((mark) => mark.lineSigma));

  const show = (camera: Camera, mark: Mark, { pose, rise, lean }: Seated, size: number) => {
    const [c, s] = [Math.cos(pose.radians) * size, Math.sin(pose.radians) * size];
    return ([x, y]: Local): Point<'photo'> => {
      const [dx, dy] = [c * x - s * y, s * x + c * y];
      const depth = problem.drop - mark.above - rise - lean[0] * dx - lean[1] * dy;
      return camera.project([pose.at[0] + dx, pose.at[1] + dy], depth);
    };
  };
  const normals = marks.map((mark) => new Float64Array(mark.edges.length * 2));

  /** With `only`, the rows that this parameter cannot change are left as they are, and edges keep the direction that they had. */
  const residuals = (p: Float64Array, out: Float64Array, only?: number): void => {
    const owner = only === undefined ? -1 : own.owner(only);
    const line = only !== undefined && only >= LINES && only < shared ? only - LINES : undefined;
    const camera = new Camera(p.subarray(0, Camera.SIZE));
    const bias = p[Camera.SIZE] as number;
    const size = 1 + (p[Camera.SIZE + 1] as number);
    const lines = p.subarray(LINES, shared);
    const seats = own.read(p);
    let at = 0;
    marks.forEach((mark, i) => {
      const from = at;
      at += rowsOf[i] as number;
      if (owner >= 0 && owner !== i) return;
      const seat = show(camera, mark, seats[i] as Seated, size);
      const along = normals[i] as Float64Array;
      if (only === undefined) directions(mark, seat, along);
      seen(mark, seat, { bias, lines, along, ...(line !== undefined && { line }) }, problem, out.subarray(from, at));
    });
    if (owner < 0) {
      for (const tape of tapes) {
        const a = camera.place(tape.px[0], -tape.out[0]);
        const b = camera.place(tape.px[1], -tape.out[1]);
        out[at++] =
          a && b ? (Math.hypot(a[0] - b[0], a[1] - b[1], tape.out[0] - tape.out[1]) - tape.length) / tape.sigma : 1e6;
      }
    } else at += tapes.length;
    for (const known of between) out[at++] = offBetween(known, (i) => (seats[i] as Seated).pose.at);
    const believe = (value: number, belief: Belief) => {
      out[at++] = (value - belief.mean) / belief.sigma;
    };
    // A focal length is believed by its ratio: half is as odd as double.
    out[at++] = (Math.log(Math.max(camera.focal, 1) / lens.focal.mean) * lens.focal.mean) / lens.focal.sigma;
    believe(camera.k1, lens.k1);
    believe(camera.k2, lens.k2);
    believe(camera.centre[0], lens.centre[0]);
    believe(camera.centre[1], lens.centre[1]);
    believe(camera.slant[0], SLANT);
    believe(camera.slant[1], SLANT);
    believe(bias, problem.bias);
    believe(size, { mean: 1, sigma: sizeSigma });
    for (const off of lines) believe(off, { mean: 0, sigma: lineSigma });
    if (problem.height) believe(problem.drop - camera.position[2], problem.height);
    else out[at++] = 0;
    marks.forEach((mark, i) => {
      const { pose, rise, lean } = seats[i] as Seated;
      believe(rise, { mean: mark.out, sigma: mark.outSigma });
      believe(lean[0], { mean: mark.lean[0], sigma: mark.leanSigma });
      believe(lean[1], { mean: mark.lean[1], sigma: mark.leanSigma });
      out[at++] = mark.known ? (pose.at[0] - mark.known.at[0]) / mark.known.sigma : 0;
      out[at++] = mark.known ? (pose.at[1] - mark.known.at[1]) / mark.known.sigma : 0;
    });
    if (only === undefined || owner >= 0) out.set(gauge(seats.map(({ pose }) => pose)), at);
  };

  const fit = minimise(
    { start: p0, step, rows: sightings + tapes.length + between.length + priors, residuals },
    ...(iterations === undefined ? [] : [iterations]),
  );
  let at = 0;
  return {
    camera: new Camera(fit.p.slice(0, Camera.SIZE)),
    poses: own.read(fit.p).map(({ pose }) => pose),
    bias: fit.p[Camera.SIZE] as number,
    size: 1 + (fit.p[Camera.SIZE + 1] as number),
    lines: [...fit.p.subarray(LINES, shared)],
    seats: own.read(fit.p),
    fit,
    residuals: rowsOf.map((rows) => {
      at += rows;
      return fit.residuals.slice(at - rows, at);
    }),
  };
}

/** How and where a mark lies as the parameters have it. */
interface Seated extends Seat {
  readonly pose: Pose;
}

/** Where each mark's own parameters begin (after the shared ones), and what they say. A single point has no turn and no lean of its own. */
function ownParameters(marks: readonly Mark[]) {
  const shared =
    LINES + (marks.some(({ edges }) => edges.some(({ line }) => line !== undefined)) ? UNCERTAIN_LINES : 0);
  let total = shared;
  const from = marks.map(({ turns }) => {
    total += turns ? 6 : 3;
    return total - (turns ? 6 : 3);
  });
  const read = (p: Float64Array): Seated[] =>
    marks.map(({ turns, lean }, i) => {
      const at = from[i] as number;
      const value = (k: number) => p[at + k] as number;
      return {
        pose: { at: [value(0), value(1)], radians: turns ? value(3) : 0 },
        rise: value(2),
        lean: turns ? [value(4), value(5)] : lean,
      };
    });
  /** The mark that a parameter belongs to; -1 for those that all share. */
  const owner = (k: number) => from.reduce((found, first, i) => (k >= first ? i : found), -1);
  return { shared, from, total, read, owner };
}

/** The unit direction in the photo from dark to light of each of a mark's edges, as it is shown. */
function directions(mark: Mark, show: (local: Local) => Point<'photo'>, out: Float64Array): void {
  mark.edges.forEach(({ at: [x, y], towards: [nx, ny] }, k) => {
    const [u, v] = show([x, y]);
    const [u1, v1] = show([x - ny, y + nx]);
    // The edge runs along (u1 - u, v1 - v); light lies to its right-hand side as the drawing's turn from +x to +y has it.
    const length = Math.hypot(u1 - u, v1 - v);
    out[2 * k] = (v1 - v) / length;
    out[2 * k + 1] = -(u1 - u) / length;
  });
}

/** Writes what a mark's sightings miss by, in sigmas: all of them, or, with `line`, only edges on that uncertain line. */
function seen(
  mark: Mark,
  show: (local: Local) => Point<'photo'>,
  shared: { bias: number; lines: Float64Array; along: Float64Array; line?: number },
  { edgeSigma, pointScale }: Problem,
  out: Float64Array,
): void {
  const { bias, lines, along, line } = shared;
  if (line === undefined) {
    mark.points.forEach((point, k) => {
      const [u, v] = show(point.at);
      out[2 * k] = soften((u - point.px[0]) / (point.sigma * pointScale));
      out[2 * k + 1] = soften((v - point.px[1]) / (point.sigma * pointScale));
    });
  }
  mark.edges.forEach((edge, k) => {
    if (line !== undefined && edge.line !== line) return;
    const [u, v] = show(printedAt(edge, lines));
    const off = (edge.px[0] - u) * (along[2 * k] as number) + (edge.px[1] - v) * (along[2 * k + 1] as number) + bias;
    out[2 * mark.points.length + k] = soften(off / (edge.outer ? edgeSigma.outer : edgeSigma.inner));
  });
}

/** Where an edge really lies: programs that make markers of a whole number of pixels put the lines between cells where pixels end. */
function printedAt({ at, line }: SeenEdge, lines: Float64Array): Local {
  if (line === undefined) return at;
  const off = lines[line] as number;
  return line < UNCERTAIN_LINES / 2 ? [at[0] + off, at[1]] : [at[0], at[1] + off];
}

/** Square root of Huber's loss, signed, so that its square sums to it. */
function soften(residual: number): number {
  if (!Number.isFinite(residual)) return 1e6;
  const size = Math.abs(residual);
  return size <= HUBER ? residual : Math.sign(residual) * Math.sqrt(HUBER * (2 * size - HUBER));
}

/**
 * Three rows that hold the frame where the marks alone do not: their middle and mean direction stay at the start (Baarda's inner
 * constraints). So a point's sigma is against the marks as a body, not against one of them.
 */
function gaugeOf(marks: readonly Mark[], start: readonly Pose[]): (poses: readonly Pose[]) => [number, number, number] {
  const TIGHT = 1e-4;
  const known = marks.filter((mark) => mark.known).length;
  const rings = marks.map(ringOf);
  const spots = (poses: readonly Pose[]) =>
    poses.flatMap((pose, i) => {
      const mark = marks[i] as Mark;
      if (known > 0 && !mark.known) return [];
      return mark.turns ? (rings[i] as Local[]).map((local) => onFace(pose, local)) : [pose.at];
    });
  const first = spots(start);
  const n = first.length;
  const middle = [first.reduce((s, p) => s + p[0], 0) / n, first.reduce((s, p) => s + p[1], 0) / n] as const;
  const spread = Math.sqrt(first.reduce((s, p) => s + (p[0] - middle[0]) ** 2 + (p[1] - middle[1]) ** 2, 0)) || 1;
  return (poses) => {
    let [x, y, turn] = [0, 0, 0];
    spots(poses).forEach((p, i) => {
      const q = first[i] as Point<'face'>;
      const [dx, dy] = [p[0] - q[0], p[1] - q[1]];
      x += dx;
      y += dy;
      turn += (q[0] - middle[0]) * dy - (q[1] - middle[1]) * dx;
    });
    return [
      known > 0 ? 0 : x / n / TIGHT,
      known > 0 ? 0 : y / n / TIGHT,
      known > 1 ? 0 : turn / spread / Math.sqrt(n) / TIGHT,
    ];
  };
}

/** Four spots of a mark's drawing that stand for it: the corners of a box about all that was seen. */
function ringOf({ points, edges }: Mark): Local[] {
  const xs = [...points, ...edges].map(({ at }) => at[0]);
  const ys = [...points, ...edges].map(({ at }) => at[1]);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}
