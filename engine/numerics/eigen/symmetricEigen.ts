/** Dense symmetric eigenproblems, up to a few hundred rows. */
import { choleskyDense, solveLower, solveLowerTransposed } from "../dense/cholesky.ts";
import { transposeSquare } from "../dense/transpose.ts";
import { invariant } from "../invariant.ts";
import { done, failed, type Outcome } from "../outcome.ts";
import { tridiagonalize, tridiagonalQl } from "./tridiagonal.ts";

/** values: n ascending; vectors: n x n, vector after vector in the same order. */
export interface DenseEigenpairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
}

/** All eigenpairs of a symmetric n x n matrix (row by row); vectors orthonormal. */
export function symmetricEigen(a: Float64Array, n: number): DenseEigenpairs {
  const t = tridiagonalize(a, n, n);
  const swept = tridiagonalQl(t);
  invariant(swept.ok, () => (swept.ok ? "" : swept.detail)); // QL fails only on entries that are not finite
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => t.diagonal[i] - t.diagonal[j]);
  const values = new Float64Array(n);
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => {
    values[to] = t.diagonal[from];
    vectors.set(t.basis.subarray(from * n, from * n + n), to * n);
  });
  return { values, vectors };
}

/**
 * All eigenpairs of A x = lambda B x, A symmetric, B symmetric positive definite (both n x n, row by row); x' B x = 1.
 * Fails with 'not-positive-definite' if B is not.
 */
export function generalizedSymmetricEigen(
  a: Float64Array,
  b: Float64Array,
  n: number,
): Outcome<DenseEigenpairs> {
  const factor = choleskyDense(b, n);
  if (!factor.ok) return failed(factor.reason, `the right-hand matrix: ${factor.detail}`);
  const l = factor.value;
  // C = L^-1 A L^-T: columns of A first, then the rows of what came out.
  const c = a.slice(0, n * n);
  for (let pass = 0; pass < 2; pass++) {
    for (let i = 0; i < n; i++) solveLower(l, n, c.subarray(i * n, i * n + n));
    transposeSquare(c, n);
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const mean = 0.5 * (c[i * n + j] + c[j * n + i]);
      c[i * n + j] = mean;
      c[j * n + i] = mean;
    }
  }
  const { values, vectors } = symmetricEigen(c, n);
  for (let i = 0; i < n; i++) solveLowerTransposed(l, n, vectors.subarray(i * n, i * n + n));
  return done({ values, vectors });
}
