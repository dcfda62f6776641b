import { adjust, type Problem, type Start, type State } from './adjustment';
import type { EdgeSigma, Mark } from './marks';
import type { Reference } from './reference-type';

/** A settled adjustment: the marks that took part, and the names of those that did not. */
export interface Solution {
  readonly problem: Problem;
  readonly state: State;
  readonly outliers: readonly string[];
}

/** Points clicked by hand are weighed by their residuals, as if this many earlier ones had shown the expected sigma. */
const EARLIER_POINTS = 4;
/** Points are believed to at least this share of their expected sigma. */
const LEAST_POINT_SCALE = 0.2;
/**
 * A mark is left out when the fit without it is better by this much (squared sigmas), over twice its own share: neighbouring edges err
 * alike, so that a good mark may miss by half as much again as its sigmas say.
 */
const MISFIT = 40;

/**
 * Adjusts, and leaves out marks that do not agree with the rest, worst first, while more than `least` remain. Each trial begins afresh:
 * a mark that is far wrong drags the others to where they do not come back from.
 */
export function cull(
  problem: Problem,
  begin: (keep: readonly Mark[]) => Start,
  { least, leastEdgeSigma }: Pick<Reference, 'least' | 'leastEdgeSigma'>,
): Solution {
  let best = edgesWeighed(problem, adjust(problem, begin(problem.marks)), leastEdgeSigma);
  const outliers: string[] = [];
  while (best.problem.marks.length > least && suspect(best.state)) {
    const { marks } = best.problem;
    const trials = marks.map((mark, i) => {
      const trial = { ...best.problem, marks: marks.filter((other) => other !== mark) };
      const state = adjust(trial, begin(trial.marks));
      const gain = best.state.fit.cost - state.fit.cost - 2 * (best.state.residuals[i]?.length ?? 0);
      return { mark, trial, state, gain };
    });
    const worst = trials.reduce((a, b) => (b.gain > a.gain ? b : a));
    if (worst.gain < MISFIT) break;
    outliers.push(worst.mark.name);
    best = edgesWeighed(worst.trial, worst.state, leastEdgeSigma);
  }
  return { ...best, outliers };
}

/** Whether a mark may be wrong: its sightings miss by more than their sigmas say, or it is held where nobody believed it to be. */
function suspect({ fit, residuals }: State): boolean {
  const rows = residuals.reduce((sum, own) => sum + own.length, 0);
  const missed = residuals.reduce((sum, own) => sum + own.reduce((s, r) => s + r * r, 0), 0);
  return missed > rows + 2 * Math.sqrt(2 * rows) || fit.cost - missed > MISFIT / 2;
}

/** The adjustment with the sigmas of edges and points set from their own residuals. */
export function weighed({ problem, state, outliers }: Solution, leastEdgeSigma: number): Solution {
  const edges = edgesWeighed(problem, state, leastEdgeSigma);
  const points = { ...edges.problem, pointScale: pointScaleOf(edges.problem, edges.state) };
  return { problem: points, state: adjust(points, edges.state), outliers };
}

function edgesWeighed(problem: Problem, start: State, least: number): { problem: Problem; state: State } {
  let [current, state] = [problem, start];
  for (let i = 0; i < 3; i++) {
    current = { ...current, edgeSigma: edgeSigmaOf(current, state, least) };
    state = adjust(current, state);
  }
  return { problem: current, state };
}

/** What the covariance is to be multiplied by where residuals are larger than their sigmas say. */
export function inflation({ marks, between = [] }: Problem, state: State): number {
  return Math.max(1, state.fit.cost / (freedom(marks, state) + between.length));
}

/** Sightings left over once the marks have their places; camera, bias and size have beliefs of their own and take none. */
function freedom(marks: readonly Mark[], state: State): number {
  const rows = state.residuals.reduce((sum, residuals) => sum + residuals.length, 0);
  const free = marks.reduce((sum, mark) => sum + (mark.known ? 0 : 2) + (mark.turns ? 1 : 0), -3);
  return Math.max(1, rows - Math.max(0, free));
}

/** From the median of the edges' residuals, of each kind by itself (1.4826 times it is sigma for a normal spread). */
function edgeSigmaOf({ marks, edgeSigma }: Problem, state: State, least: number): EdgeSigma {
  const of = (outer: boolean): number => {
    const before = outer ? edgeSigma.outer : edgeSigma.inner;
    const sizes = marks
      .flatMap((mark, i) =>
        mark.edges.flatMap((edge, k) =>
          edge.outer === outer ? [Math.abs(state.residuals[i]?.[mark.points.length * 2 + k] as number)] : [],
        ),
      )
      .sort((a, b) => a - b);
    const median = sizes[sizes.length >> 1];
    return median === undefined ? before : Math.max(least, 1.4826 * median * before);
  };
  return { outer: of(true), inner: of(false) };
}

function pointScaleOf({ marks, pointScale }: Problem, state: State): number {
  const points = marks.reduce((sum, mark) => sum + mark.points.length, 0);
  if (points === 0) return pointScale;
  const left = Math.max(1, freedom(marks, state) - Math.min(freedom(marks, state) - 1, 6));
  const squares = marks.reduce(
    (sum, mark, i) =>
      sum + (state.residuals[i]?.subarray(0, mark.points.length * 2).reduce((s, r) => s + r * r, 0) ?? 0),
    0,
  );
  const scale = Math.sqrt((EARLIER_POINTS + squares) / (EARLIER_POINTS + left));
  return pointScale * Math.max(LEAST_POINT_SCALE, scale);
}
