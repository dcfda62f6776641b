/** Symmetric positive definite systems, small and dense: n x n, row by row. */

/** Lower triangle L with L L' = A, or null where A is not positive definite. */
export function cholesky(a: Float64Array, n: number): Float64Array | null {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j] as number;
      for (let k = 0; k < j; k++) sum -= (l[i * n + k] as number) * (l[j * n + k] as number);
      if (i === j) {
        if (!(sum > 0)) return null;
        l[i * n + i] = Math.sqrt(sum);
      } else {
        l[i * n + j] = sum / (l[j * n + j] as number);
      }
    }
  }
  return l;
}

/** x with L L' x = b. */
export function solve(l: Float64Array, b: Float64Array, n: number): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] = (x[i] as number) - (l[i * n + k] as number) * (x[k] as number);
    x[i] = (x[i] as number) / (l[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] = (x[i] as number) - (l[k * n + i] as number) * (x[k] as number);
    x[i] = (x[i] as number) / (l[i * n + i] as number);
  }
  return x;
}

/** Inverse of L L', row by row. */
export function inverse(l: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    unit.fill(0);
    unit[k] = 1;
    out.set(solve(l, unit, n), k * n);
  }
  return out;
}
