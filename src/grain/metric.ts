/**
 * How far apart two sides of a joint look, learnt from the wood itself: differences across uncut wood are made alike in all
 * directions (whitened), and each direction then counts by how much more two sides that do not belong together differ in it
 * (Köstinger et al. 2012, metric from equivalence constraints, here with the wood's own imaginary kerfs as the equal pairs).
 */
export interface Metric {
  readonly from: number;
  readonly to: number;
  /** `to` rows of `from` numbers: features to the space in which squared distance is measured. */
  readonly project: Float32Array;
}

/** Sums of products of difference vectors; symmetric, about zero (a difference has no preferred sign). */
export class Spread {
  readonly sums: Float64Array;
  count = 0;
  constructor(readonly size: number) {
    this.sums = new Float64Array(size * size);
  }

  add(p: ArrayLike<number>, q: ArrayLike<number>): void {
    const { size, sums } = this;
    for (let i = 0; i < size; i++) {
      const di = (p[i] as number) - (q[i] as number);
      for (let j = 0; j <= i; j++)
        sums[i * size + j] = (sums[i * size + j] as number) + di * ((p[j] as number) - (q[j] as number));
    }
    this.count++;
  }

  /** Mean products, with a ridge of `share` of each feature's own variance. */
  matrix(share = 0.02): Float64Array {
    const { size, sums, count } = this;
    const m = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j <= i; j++)
        m[i * size + j] = m[j * size + i] = (sums[i * size + j] as number) / Math.max(1, count);
    }
    for (let i = 0; i < size; i++) m[i * size + i] = (m[i * size + i] as number) * (1 + share) + 1e-9;
    return m;
  }
}

/**
 * The metric from uncut and from unrelated pairs: at most `keep` directions, most telling first.
 * Uncut pairs have a mean squared distance of 1 in it.
 */
export function learnMetric(uncut: Spread, unrelated: Spread, keep: number): Metric {
  const n = uncut.size;
  const lower = cholesky(uncut.matrix(), n);
  const whitened = sandwich(unrelated.matrix(), lower, n);
  const { values, vectors } = jacobi(whitened, n);
  const order = [...values.keys()].sort((i, j) => (values[j] as number) - (values[i] as number));
  // Where unrelated pairs differ no more than uncut ones, a direction tells nothing.
  const telling = order
    .slice(0, keep)
    .map((i) => ({ i, weight: Math.max(0.02, 1 - 1 / Math.max(values[i] as number, 1e-9)) }));
  const total = telling.reduce((s, { weight }) => s + weight, 0);
  const project = new Float32Array(telling.length * n);
  telling.forEach(({ i, weight }, row) => {
    // Row vector v^T L^-1: solve L^T x = v from the bottom.
    const x = new Float64Array(n);
    for (let r = n - 1; r >= 0; r--) {
      let s = vectors[r * n + i] as number;
      for (let c = r + 1; c < n; c++) s -= (lower[c * n + r] as number) * (x[c] as number);
      x[r] = s / (lower[r * n + r] as number);
    }
    const scale = Math.sqrt(weight / total);
    for (let c = 0; c < n; c++) project[row * n + c] = scale * (x[c] as number);
  });
  return { from: n, to: telling.length, project };
}

/** Features in the metric's space, written to `out` from `at`. */
export function projected(
  { from, to, project }: Metric,
  features: ArrayLike<number>,
  out: Float32Array,
  at: number,
): void {
  for (let r = 0; r < to; r++) {
    let s = 0;
    for (let c = 0; c < from; c++) s += (project[r * from + c] as number) * (features[c] as number);
    out[at + r] = s;
  }
}

function cholesky(m: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = m[i * n + j] as number;
      for (let k = 0; k < j; k++) s -= (l[i * n + k] as number) * (l[j * n + k] as number);
      l[i * n + j] = i === j ? Math.sqrt(Math.max(s, 1e-12)) : s / (l[j * n + j] as number);
    }
  }
  return l;
}

/** L^-1 M L^-T. */
function sandwich(m: Float64Array, l: Float64Array, n: number): Float64Array {
  const solveRows = (a: Float64Array): Float64Array => {
    const x = new Float64Array(n * n);
    for (let c = 0; c < n; c++) {
      for (let r = 0; r < n; r++) {
        let s = a[r * n + c] as number;
        for (let k = 0; k < r; k++) s -= (l[r * n + k] as number) * (x[k * n + c] as number);
        x[r * n + c] = s / (l[r * n + r] as number);
      }
    }
    return x;
  };
  const transposed = (a: Float64Array) => a.map((_, i) => a[(i % n) * n + Math.floor(i / n)] as number);
  return solveRows(transposed(solveRows(m)));
}

/** Eigenvalues and vectors (columns) of a symmetric matrix by Jacobi's rotations; sizes here are under 20. */
function jacobi(m: Float64Array, n: number): { values: Float64Array; vectors: Float64Array } {
  const a = Float64Array.from(m);
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < 30; sweep++) {
    let off = 0;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) off += (a[p * n + q] as number) ** 2;
    if (off < 1e-18) break;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, v, n, p, q);
  }
  return { values: Float64Array.from({ length: n }, (_, i) => a[i * n + i] as number), vectors: v };
}

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q] as number;
  if (Math.abs(apq) < 1e-15) return;
  const tau = ((a[q * n + q] as number) - (a[p * n + p] as number)) / (2 * apq);
  const t = Math.sign(tau || 1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const kp = a[k * n + p] as number;
    const kq = a[k * n + q] as number;
    a[k * n + p] = c * kp - s * kq;
    a[k * n + q] = s * kp + c * kq;
  }
  for (let k = 0; k < n; k++) {
    const pk = a[p * n + k] as number;
    const qk = a[q * n + k] as number;
    a[p * n + k] = c * pk - s * qk;
    a[q * n + k] = s * pk + c * qk;
    const vp = v[k * n + p] as number;
    const vq = v[k * n + q] as number;
    v[k * n + p] = c * vp - s * vq;
    v[k * n + q] = s * vp + c * vq;
  }
}
