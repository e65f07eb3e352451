/** Cholesky factor of a sparse symmetric positive definite matrix. */
import { choleskyDense, choleskySolve } from "../dense/cholesky.ts";
import { done, failed, type Outcome } from "../outcome.ts";
import type { SparseSymmetric } from "./symmetric.ts";

export interface CholeskyFactor {
  readonly n: number;
  readonly lower: Float64Array;
}

export function factorize(
  a: SparseSymmetric,
  _options: { readonly group?: Uint32Array } = {},
): Outcome<CholeskyFactor> {
  const { n } = a;
  const dense = new Float64Array(n * n);
  for (let j = 0; j < n; j++)
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) dense[a.rowIndex[p] * n + j] = a.values[p];
  const l = choleskyDense(dense, n);
  return l.ok ? done({ n, lower: l.value }) : failed(l.reason, l.detail);
}

export function solveFactored(
  f: CholeskyFactor,
  b: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(f.n * columns),
): Float64Array {
  return choleskySolve(f.lower, f.n, b, columns, out);
}
