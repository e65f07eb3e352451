import { type KernelSource, type Kernels, placeOf, type SparseSymmetric } from "#engine/numerics";
import { interleave } from "./orthogonalTo.ts";

/** Doubles that products of so many vectors (of both sides) of n ask for. */
export function productRoom(vectors: number, n: number): number {
  return (vectors + 8) * n + 8 * vectors + 64;
}

/**
 * a_i . b_j of vectors of n: rows x columns. `symmetric`: the result is known to be, and half of it is computed. The room in the kernels'
 * memory (`productRoom`) is given back.
 */
export function dotProducts(
  a: Float64Array,
  b: Float64Array,
  n: number,
  kernels: Kernels,
  symmetric = false,
): Float64Array {
  const [rows, columns] = [a.length / n, b.length / n];
  const [high, wide] = [Math.ceil(rows / 4), Math.ceil(columns / 4)];
  const stride = 4 * n;
  const mark = kernels.mark();
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
  kernels.release(mark);
  if (symmetric)
    for (let i = 0; i < rows; i++) for (let j = 0; j < i; j++) out[j * columns + i] = out[i * columns + j];
  return out;
}

/** A times vectors of n, vector after vector. */
export function blockMultiply(a: SparseSymmetric, vectors: Float64Array, source: KernelSource): Float64Array {
  const { n, colStart, rowIndex } = a;
  const kernels = source(8 * n + Math.ceil((3 * rowIndex.length + colStart.length) / 2) + 64);
  const values = kernels.allocate(rowIndex.length);
  const [x, y] = [kernels.allocate(4 * n), kernels.allocate(4 * n)];
  const starts = kernels.allocateIndices(colStart.length);
  const rows = kernels.allocateIndices(rowIndex.length);
  values.set(a.values);
  starts.set(colStart);
  rows.set(rowIndex);
  const count = vectors.length / n;
  const out = new Float64Array(vectors.length);
  for (let v = 0; v < count; v += 4) {
    const width = Math.min(4, count - v);
    interleave(vectors.subarray(v * n), width, n, x);
    kernels.blocks.multiply(n, placeOf(starts), placeOf(rows), placeOf(values), placeOf(x), placeOf(y));
    for (let k = 0; k < width; k++) for (let i = 0; i < n; i++) out[(v + k) * n + i] = y[4 * i + k];
  }
  return out;
}

/** Sums of vectors of n: sum over k of mix[c][k] vector k, for each line c of mix. */
export function blockCombined(
  mix: Float64Array,
  vectors: Float64Array,
  n: number,
  source: KernelSource,
): Float64Array {
  const inner = vectors.length / n;
  const count = mix.length / inner;
  const blocks = Math.ceil(inner / 4);
  const kernels = source((blocks + 1) * 4 * n + 16 * blocks + 64);
  const q = kernels.allocate(blocks * 4 * n);
  const x = kernels.allocate(4 * n);
  const c = kernels.allocate(16 * blocks);
  interleave(vectors, inner, n, q);
  const out = new Float64Array(count * n);
  for (let v = 0; v < count; v += 4) {
    const width = Math.min(4, count - v);
    x.fill(0);
    c.fill(0);
    for (let k = 0; k < inner; k++)
      for (let w = 0; w < width; w++) c[16 * (k >> 2) + 4 * (k & 3) + w] = -mix[(v + w) * inner + k];
    kernels.blocks.subtract(placeOf(q), 4 * n, blocks, placeOf(c), placeOf(x), 4 * n, 1, n);
    for (let w = 0; w < width; w++) for (let i = 0; i < n; i++) out[(v + w) * n + i] = x[4 * i + w];
  }
  return out;
}
