/** Small systems: the whole spectrum by the dense solver. */
import { done, failed, type Outcome } from "../outcome.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";
import { symmetricMultiply } from "../sparse/symmetric.ts";
import type { Eigenpairs } from "./iteratedModes.ts";
import { generalizedSymmetricEigen } from "./symmetricEigen.ts";

/**
 * The pairs of M x = theta (K + shift M) x with theta > 0, in ascending lambda = 1 / theta - shift; stands a singular M.
 * K + shift M must be positive definite.
 */
export function denseModes(k: SparseSymmetric, m: SparseSymmetric, shift: number): Outcome<Eigenpairs> {
  const { n } = k;
  const mass = denseOf(m);
  const shifted = denseOf(k).map((v, i) => v + shift * mass[i]);
  const pairs = generalizedSymmetricEigen(mass, shifted, n);
  if (!pairs.ok) return failed(pairs.reason, pairs.detail);
  const theta = pairs.value.values;
  let count = 0;
  while (count < n && theta[n - 1 - count] > 1e-13 * theta[n - 1]) count++;
  const values = new Float64Array(count);
  const vectors = new Float64Array(count * n);
  const residuals = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const x = pairs.value.vectors.subarray((n - 1 - i) * n, (n - i) * n);
    const mx = symmetricMultiply(m, x);
    const kx = symmetricMultiply(k, x);
    const modal = x.reduce((sum, v, j) => sum + v * mx[j], 0);
    values[i] = 1 / theta[n - 1 - i] - shift;
    const gap = Math.hypot(...kx.map((v, j) => v - values[i] * mx[j]));
    residuals[i] = gap / (Math.hypot(...mx) * (values[i] + shift));
    vectors.set(
      x.map((v) => v / Math.sqrt(modal)),
      i * n,
    );
  }
  return done({ values, vectors, residuals });
}

function denseOf(a: SparseSymmetric): Float64Array {
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
