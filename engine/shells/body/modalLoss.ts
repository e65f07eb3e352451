import { type KernelSource, placeOf, type SparseSymmetric } from "#engine/numerics";

export interface ModalLoss {
  /** phi' K phi, count x count. */
  readonly own: Float64Array;
  /** K phi, count x n, vector after vector. */
  readonly forces: Float64Array;
}

/** Energies of some vectors (count x n) in a matrix, each with each. */
export function modalLoss(
  k: SparseSymmetric,
  vectors: Float64Array,
  count: number,
  source: KernelSource,
): ModalLoss {
  const { n, colStart, rowIndex } = k;
  const blocks = Math.ceil(count / 4);
  const stride = 4 * n;
  const entries = rowIndex.length;
  const kernels = source((blocks + 1) * stride + 16 * blocks + 2 * entries + n + 64);
  const { numbers } = kernels;
  const q = placeOf(kernels.allocate(blocks * stride));
  const z = placeOf(kernels.allocate(stride));
  const c = placeOf(kernels.allocate(16 * blocks));
  const values = kernels.allocate(entries);
  const starts = kernels.allocateIndices(colStart.length);
  const rows = kernels.allocateIndices(entries);
  values.set(k.values);
  starts.set(colStart);
  rows.set(rowIndex);
  for (let v = 0; v < count; v++) interleave(vectors, v * n, n, numbers, q + (v >> 2) * stride + (v & 3));
  const own = new Float64Array(count * count);
  const forces = new Float64Array(count * n);
  for (let b = 0; b < blocks; b++) {
    kernels.blocks.multiply(n, placeOf(starts), placeOf(rows), placeOf(values), q + b * stride, z);
    // the columns up to their own block against the four of the product
    kernels.blocks.products(q, stride, b + 1, z, stride, 1, n, c);
    for (let v = 4 * b; v < Math.min(4 * b + 4, count); v++) {
      for (let i = 0; i <= v; i++) own[count * v + i] = own[count * i + v] = numbers[c + 4 * i + (v & 3)];
      separate(numbers, z + (v & 3), n, forces, v * n);
    }
  }
  return { own, forces };
}

function interleave(x: Float64Array, from: number, n: number, numbers: Float64Array, to: number): void {
  for (let i = 0; i < n; i++) numbers[to + 4 * i] = x[from + i];
}

function separate(numbers: Float64Array, from: number, n: number, x: Float64Array, to: number): void {
  for (let i = 0; i < n; i++) x[to + i] = numbers[from + 4 * i];
}

/** The same of all vectors from those of two sets, the first by its vectors, the second by its forces. */
export function joinedLoss(
  vectors: Float64Array,
  first: Float64Array,
  { own, forces }: ModalLoss,
  n: number,
): Float64Array {
  const a = vectors.length / n;
  const b = forces.length / n;
  const all = a + b;
  const out = new Float64Array(all * all);
  for (let i = 0; i < a; i++) out.set(first.subarray(a * i, a * i + a), all * i);
  for (let i = 0; i < b; i++) out.set(own.subarray(b * i, b * i + b), all * (a + i) + a);
  for (let i = 0; i < a; i++)
    for (let j = 0; j < b; j++)
      out[all * i + a + j] = out[all * (a + j) + i] = product(vectors, i * n, forces, j * n, n);
  return out;
}

function product(x: Float64Array, at: number, y: Float64Array, from: number, n: number): number {
  let even = 0;
  let odd = 0;
  let i = 0;
  for (; i + 1 < n; i += 2) {
    even += x[at + i] * y[from + i];
    odd += x[at + i + 1] * y[from + i + 1];
  }
  return i < n ? even + odd + x[at + i] * y[from + i] : even + odd;
}
