import { backward, cholesky, forward } from '../surface';

/**
 * Small dense least squares by Levenberg and Marquardt (Marquardt 1963; damping after Nielsen 1999), with the covariance kept.
 * Ours rather than a library's because the covariance is half of the answer: it carries ± to every point (DESIGN 4).
 */

/** A sum of squares to be made least. Residuals are whitened: each divided by its own standard deviation, priors included. */
export interface LeastSquares {
  readonly start: Float64Array;
  /** A small step of each parameter, in its own unit, over which residuals are nearly straight. */
  readonly step: Float64Array;
  readonly rows: number;
  /**
   * Writes `rows` residuals at parameters `p` into `out`. With `only`, no parameter but this one differs by more than its step from the
   * last call without, whose residuals `out` holds: rows that it does not change may be left alone.
   */
  residuals(p: Float64Array, out: Float64Array, only?: number): void;
}

/** Residuals are in sigmas, so a fall by this moves no parameter by more than some thousandths of its own. */
const SETTLED = 1e-5;

export interface Fit {
  readonly p: Float64Array;
  readonly residuals: Float64Array;
  /** Sum of squared residuals. */
  readonly cost: number;
  /** Inverse of the normal matrix at `p`, row by row: the covariance where residuals are truly whitened. */
  readonly covariance: Float64Array;
}

/**
 * @param iterations most steps to be tried
 * @throws RangeError when the residuals do not determine the parameters (add a prior)
 */
export function minimise(problem: LeastSquares, iterations = 60): Fit {
  const n = problem.start.length;
  let p = Float64Array.from(problem.start);
  let r = evaluate(problem, p);
  let cost = dot(r, r);
  let damping = 1e-3;
  let growth = 2;
  let { normal, gradient } = normals(problem, p, r);
  for (let i = 0; i < iterations; i++) {
    const damped = Float64Array.from(normal);
    for (let k = 0; k < n; k++) damped[k * n + k] = (damped[k * n + k] as number) * (1 + damping) + 1e-300;
    const lower = cholesky(damped, n);
    const step = backward(lower, n, forward(lower, n, gradient));
    const next = p.map((value, k) => value - (step[k] as number));
    const nextR = evaluate(problem, next);
    const nextCost = dot(nextR, nextR);
    if (nextCost <= cost) {
      const settled = cost - nextCost <= SETTLED;
      p = next;
      r = nextR;
      cost = nextCost;
      if (settled) break;
      damping = Math.max(damping / 5, 1e-12);
      growth = 2;
      ({ normal, gradient } = normals(problem, p, r));
    } else {
      damping *= growth;
      growth *= 2;
      if (damping > 1e12) break;
    }
  }
  const lower = cholesky(normals(problem, p, r).normal, n);
  return { p, residuals: r, cost, covariance: inverse(lower, n) };
}

/** Inverse of L L', row by row. */
function inverse(lower: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    unit.fill(0);
    unit[k] = 1;
    out.set(backward(lower, n, forward(lower, n, unit)), k * n);
  }
  return out;
}

function evaluate(problem: LeastSquares, p: Float64Array): Float64Array {
  const out = new Float64Array(problem.rows);
  problem.residuals(p, out);
  return out;
}

/** J'J and J'r, with J from central differences. */
function normals(problem: LeastSquares, p: Float64Array, r: Float64Array) {
  const n = p.length;
  const columns: Float64Array[] = [];
  const moved = Float64Array.from(p);
  const [plus, minus] = [evaluate(problem, p), new Float64Array(problem.rows)];
  for (let k = 0; k < n; k++) {
    const step = problem.step[k] as number;
    const at = p[k] as number;
    moved[k] = at + step;
    plus.set(r);
    problem.residuals(moved, plus, k);
    moved[k] = at - step;
    minus.set(r);
    problem.residuals(moved, minus, k);
    moved[k] = at;
    columns.push(plus.map((value, i) => (value - (minus[i] as number)) / (2 * step)));
  }
  const normal = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const ci = columns[i] as Float64Array;
    gradient[i] = dot(ci, r);
    for (let j = 0; j <= i; j++) {
      const value = dot(ci, columns[j] as Float64Array);
      normal[i * n + j] = value;
      normal[j * n + i] = value;
    }
  }
  return { normal, gradient };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
