/** Dense real linear systems by Gaussian elimination with row exchanges. */
import { done, failed, type Outcome } from "../outcome.ts";

/**
 * Solves A x = b. a: n x n row by row (kept); b: n x columns, column after column. Partial pivoting.
 * Fails with 'singular' where a pivot vanishes to rounding against the largest entry of A.
 */
export function luSolve(a: Float64Array, n: number, b: Float64Array, columns = 1): Outcome<Float64Array> {
  const lu = a.slice(0, n * n);
  const x = b.slice(0, n * columns);
  let largest = 0;
  for (const v of lu) largest = Math.max(largest, Math.abs(v));
  for (let k = 0; k < n; k++) {
    let pivotRow = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(lu[i * n + k]) > Math.abs(lu[pivotRow * n + k])) pivotRow = i;
    }
    const pivot = lu[pivotRow * n + k];
    if (!(Math.abs(pivot) > n * Number.EPSILON * largest)) {
      return failed("singular", `no pivot in column ${k} of ${n}: ${pivot} against entries up to ${largest}`);
    }
    if (pivotRow !== k) {
      for (let j = k; j < n; j++) {
        const t = lu[k * n + j];
        lu[k * n + j] = lu[pivotRow * n + j];
        lu[pivotRow * n + j] = t;
      }
      for (let c = 0; c < columns; c++) {
        const t = x[c * n + k];
        x[c * n + k] = x[c * n + pivotRow];
        x[c * n + pivotRow] = t;
      }
    }
    for (let i = k + 1; i < n; i++) {
      const factor = lu[i * n + k] / pivot;
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j++) lu[i * n + j] -= factor * lu[k * n + j];
      for (let c = 0; c < columns; c++) x[c * n + i] -= factor * x[c * n + k];
    }
  }
  for (let c = 0; c < columns; c++) {
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[c * n + i];
      for (let j = i + 1; j < n; j++) sum -= lu[i * n + j] * x[c * n + j];
      x[c * n + i] = sum / lu[i * n + i];
    }
  }
  return done(x);
}
