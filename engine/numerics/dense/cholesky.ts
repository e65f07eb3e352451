/** Dense Cholesky factor and its triangular solves, for matrices of a few hundred rows. */
import { done, failed, type Outcome } from "../outcome.ts";

/**
 * Lower factor L with L L' = A. a: n x n row by row, lower triangle read. The result is n x n, zero above the diagonal.
 * Fails with 'not-positive-definite' and the row at which it happened.
 */
export function choleskyDense(a: Float64Array, n: number): Outcome<Float64Array> {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j];
      for (let k = 0; k < j; k++) sum -= l[i * n + k] * l[j * n + k];
      if (j < i) {
        l[i * n + j] = sum / l[j * n + j];
        continue;
      }
      // Below this the pivot is rounding noise of the diagonal entry it came from.
      if (!(sum > n * Number.EPSILON * Math.abs(a[i * n + i]))) {
        return failed("not-positive-definite", `pivot ${sum} in row ${i} of ${n}`);
      }
      l[i * n + i] = Math.sqrt(sum);
    }
  }
  return done(l);
}

/** Solves L L' x = b for each of the columns (n x columns, column after column). */
export function choleskySolve(
  l: Float64Array,
  n: number,
  b: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(n * columns),
): Float64Array {
  for (let c = 0; c < columns; c++) {
    const x = out.subarray(c * n, c * n + n);
    x.set(b.subarray(c * n, c * n + n));
    solveLower(l, n, x);
    solveLowerTransposed(l, n, x);
  }
  return out;
}

/** In place x := L^-1 x. */
export function solveLower(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i];
    for (let k = 0; k < i; k++) sum -= l[i * n + k] * x[k];
    x[i] = sum / l[i * n + i];
  }
}

/** In place x := L^-T x. */
export function solveLowerTransposed(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    const xi = x[i] / l[i * n + i];
    x[i] = xi;
    for (let k = 0; k < i; k++) x[k] -= l[i * n + k] * xi;
  }
}
