import { type KernelSource, placeOf } from "#engine/numerics";
import { interleave } from "./orthogonalTo.ts";

/**
 * a_i . b_j of vectors of n: rows x columns. `symmetric`: the result is known to be, and half of it is computed.
 */
export function dotProducts(
  a: Float64Array,
  b: Float64Array,
  n: number,
  source: KernelSource,
  symmetric = false,
): Float64Array {
  const [rows, columns] = [a.length / n, b.length / n];
  const [high, wide] = [Math.ceil(rows / 4), Math.ceil(columns / 4)];
  const stride = 4 * n;
  const kernels = source((high + wide) * stride + 16 * wide + 64);
  const as = kernels.allocate(high * stride);
  const bs = kernels.allocate(wide * stride);
  const c = kernels.allocate(16 * wide);
  interleave(a, rows, n, as);
  interleave(b, columns, n, bs);
  const out = new Float64Array(rows * columns);
  for (let k = 0; k < high; k++) {
    const count = symmetric ? k + 1 : wide;
    kernels.blocks.products(placeOf(bs), stride, count, placeOf(as) + k * stride, stride, 1, n, placeOf(c));
    for (let i = 4 * k; i < Math.min(rows, 4 * k + 4); i++)
      for (let j = 0; j < Math.min(columns, 4 * count); j++)
        out[i * columns + j] = c[16 * (j >> 2) + 4 * (j & 3) + (i & 3)];
  }
  if (symmetric)
    for (let i = 0; i < rows; i++) for (let j = 0; j < i; j++) out[j * columns + i] = out[i * columns + j];
  return out;
}
