import { placeOf } from "../kernels/kernelMemory.ts";
import { type KernelSource, typescriptKernels } from "../kernels/kernels.ts";
import { done, failed, type Outcome } from "../outcome.ts";
import type { DenseEigenpairs } from "./symmetricEigen.ts";
import { tridiagonalPairs } from "./tridiagonalPairs.ts";

/**
 * The `count` lowest eigenpairs of A x = lambda B x, both n x n row by row (lower triangles read), B positive definite;
 * x' B x = 1. Values ascending, vectors count x n. Made for a few hundred rows many times over: Cholesky of B, reduction
 * to tridiagonal form, inverse iteration. Fails with 'not-positive-definite' if B is not (a pivot below 1e-12 of its
 * diagonal counts as zero), and as the QL iteration does.
 */
export function lowestDense(
  a: Float64Array,
  b: Float64Array,
  n: number,
  count: number,
  source: KernelSource = typescriptKernels,
): Outcome<DenseEigenpairs> {
  const stride = n + (n & 1);
  const wanted = Math.min(count, n);
  const kernels = source((2 * n + wanted) * stride + 5 * stride + 64);
  const l = kernels.allocate(n * stride);
  const c = kernels.allocate(n * stride);
  const z = kernels.allocate(wanted * stride);
  const floors = kernels.allocate(n);
  const d = kernels.allocate(n);
  const e = kernels.allocate(n);
  const work = kernels.allocate(n);
  for (let i = 0; i < n; i++) {
    l.set(b.subarray(i * n, i * n + i + 1), i * stride);
    c.set(a.subarray(i * n, i * n + i + 1), i * stride);
    floors[i] = 1e-12 * b[i * n + i];
  }
  const { denseEigen } = kernels;
  const [lAt, cAt, zAt] = [placeOf(l), placeOf(c), placeOf(z)];
  const bad = denseEigen.cholesky(lAt, stride, n, placeOf(floors));
  if (bad >= 0)
    return failed(
      "not-positive-definite",
      `the right-hand matrix: row ${bad} of ${n} depends on those before it`,
    );
  denseEigen.reduce(lAt, cAt, stride, n);
  denseEigen.tridiagonalize(cAt, stride, n, placeOf(d), placeOf(e), placeOf(work));
  const values = tridiagonalPairs(d, e, wanted, stride, z);
  if (!values.ok) return values;
  denseEigen.backTransform(cAt, stride, n, zAt, wanted);
  denseEigen.backSolve(lAt, stride, n, zAt, wanted);
  const vectors = new Float64Array(wanted * n);
  for (let k = 0; k < wanted; k++) vectors.set(z.subarray(k * stride, k * stride + n), k * n);
  return done({ values: values.value, vectors });
}
