/** What the metric needs of symmetric matrices, kept as rows one after the other. */

/** Lower triangle L of a positive definite matrix, L L^T. */
export function cholesky(m: Float64Array, n: number): Float64Array {
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
export function sandwich(m: Float64Array, l: Float64Array, n: number): Float64Array {
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

/** Eigenvalues and vectors (columns) of a symmetric matrix by Jacobi's rotations; sizes here are under 40. */
export function jacobi(m: Float64Array, n: number): { values: Float64Array; vectors: Float64Array } {
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
