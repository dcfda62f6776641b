/**
 * The few dense matrices that readings need: symmetric, positive, a few hundred rows. Square matrices are stored row by row.
 */

/**
 * The lower triangle L of a symmetric positive matrix, A = L L' (Cholesky; Golub and Van Loan, Matrix Computations, 4.2).
 * @throws RangeError when the matrix is not positive
 */
export function cholesky(matrix: Float64Array, n: number): Float64Array {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j] as number;
      for (let k = 0; k < j; k++) sum -= (lower[i * n + k] as number) * (lower[j * n + k] as number);
      if (i !== j) lower[i * n + j] = sum / (lower[j * n + j] as number);
      else if (sum > 0) lower[i * n + i] = Math.sqrt(sum);
      else throw new RangeError('The matrix is not positive.');
    }
  }
  return lower;
}

/** Solves L x = b. */
export function forward(lower: Float64Array, n: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = 0; i < n; i++) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (lower[i * n + k] as number) * (x[k] as number);
    x[i] = sum / (lower[i * n + i] as number);
  }
  return x;
}

/** Solves L' x = b. */
export function backward(lower: Float64Array, n: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (lower[k * n + i] as number) * (x[k] as number);
    x[i] = sum / (lower[i * n + i] as number);
  }
  return x;
}

/** Solves A x = b for a symmetric positive matrix. */
export function solve(matrix: Float64Array, n: number, right: Float64Array): Float64Array {
  const lower = cholesky(matrix, n);
  return backward(lower, n, forward(lower, n, right));
}

/**
 * The coefficients that fit `values` as sums of the columns of `rows` with least squares. Columns that the rows cannot tell apart
 * share by a faint pull towards zero.
 */
export function leastSquares(rows: readonly (readonly number[])[], values: readonly number[]): number[] {
  const n = rows[0]?.length ?? 0;
  const scale = Array.from({ length: n }, (_, c) => Math.hypot(...rows.map((row) => row[c] as number)) || 1);
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  rows.forEach((row, i) => {
    for (let c = 0; c < n; c++) {
      const u = (row[c] as number) / (scale[c] as number);
      right[c] = (right[c] as number) + u * (values[i] as number);
      for (let d = 0; d < n; d++) {
        normal[c * n + d] = (normal[c * n + d] as number) + (u * (row[d] as number)) / (scale[d] as number);
      }
    }
  });
  for (let c = 0; c < n; c++) normal[c * n + c] = (normal[c * n + c] as number) + 1e-9;
  return [...solve(normal, n, right)].map((x, c) => x / (scale[c] as number));
}
