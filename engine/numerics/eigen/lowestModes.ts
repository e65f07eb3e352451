/** The lowest modes of K x = lambda M x for large sparse matrices. */
import { type Context, done, failed, invariant, type Outcome } from "../outcome.ts";
import { type SparseSymmetric, symmetricCombination, symmetricMultiply } from "../sparse/symmetric.ts";
import { generalizedSymmetricEigen } from "./symmetricEigen.ts";

/** count pairs: values ascending; vectors count x n, mode after mode, x' M x = 1; residuals relative, see lowestModes. */
export interface Eigenpairs {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
  readonly residuals: Float64Array;
}

export interface LowestModesOptions {
  readonly count: number;
  /** K + shift M is factored (shift >= 0, in the unit of lambda): needed where K alone is singular (free bodies). */
  readonly shift?: number;
  readonly tolerance?: number;
  readonly group?: Uint32Array;
}

/** First version: dense, so that everything above can compile and run on small systems. */
export function lowestModes(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: LowestModesOptions,
  _context: Context,
): Outcome<Eigenpairs> {
  const { n } = k;
  const shift = o.shift ?? 0;
  invariant(shift >= 0, () => `shift ${shift}`);
  const pairs = generalizedSymmetricEigen(dense(m), dense(symmetricCombination(k, 1, m, shift)), n);
  if (!pairs.ok) return failed(pairs.reason, pairs.detail);
  const values = new Float64Array(o.count);
  const vectors = new Float64Array(o.count * n);
  const residuals = new Float64Array(o.count);
  for (let i = 0; i < o.count; i++) {
    const from = n - 1 - i;
    const theta = pairs.value.values[from];
    values[i] = 1 / theta - shift;
    const x = vectors.subarray(i * n, i * n + n);
    for (let d = 0; d < n; d++) x[d] = pairs.value.vectors[from * n + d] / Math.sqrt(theta);
    const kx = symmetricMultiply(k, x);
    const mx = symmetricMultiply(m, x);
    residuals[i] =
      Math.hypot(...kx.map((v, d) => v - values[i] * mx[d])) / (Math.hypot(...mx) * (values[i] + shift));
  }
  return done({ values, vectors, residuals });
}

function dense(a: SparseSymmetric): Float64Array {
  const { n } = a;
  const out = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      out[a.rowIndex[p] * n + j] = a.values[p];
      out[j * n + a.rowIndex[p]] = a.values[p];
    }
  }
  return out;
}
