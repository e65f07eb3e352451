import { type KernelSource, placeOf } from "#engine/numerics";

/**
 * Takes vectors `q` (count x n) out of `y` (columns x n): y - q (p' y), where p are the partners of q (p_i' q_j = 1 if i = j,
 * else 0; for M-orthonormal q its momenta M q). Twice over, so that nothing is left to rounding. In place.
 */
export function takeOut(
  q: Float64Array,
  p: Float64Array,
  y: Float64Array,
  n: number,
  source: KernelSource,
): void {
  const count = q.length / n;
  const columns = y.length / n;
  if (count === 0 || columns === 0) return;
  const blocks = Math.ceil(count / 4);
  const stride = 4 * n;
  const kernels = source((2 * blocks + 1) * stride + 16 * blocks + 64);
  const qs = kernels.allocate(blocks * stride);
  const ps = kernels.allocate(blocks * stride);
  const ys = kernels.allocate(stride);
  const c = kernels.allocate(16 * blocks);
  interleave(q, count, n, qs);
  interleave(p, count, n, ps);
  for (let from = 0; from < columns; from += 4) {
    const width = Math.min(4, columns - from);
    ys.fill(0);
    interleave(y.subarray(from * n), width, n, ys);
    for (let pass = 0; pass < 2; pass++) {
      kernels.blocks.products(placeOf(ps), stride, blocks, placeOf(ys), stride, 1, n, placeOf(c));
      kernels.blocks.subtract(placeOf(qs), stride, blocks, placeOf(c), placeOf(ys), stride, 1, n);
    }
    for (let v = 0; v < width; v++) for (let i = 0; i < n; i++) y[(from + v) * n + i] = ys[4 * i + v];
  }
}

/** Vectors one after the other into blocks of four, entry by entry. */
export function interleave(vectors: Float64Array, count: number, n: number, out: Float64Array): void {
  for (let v = 0; v < count; v++) {
    const base = (v >> 2) * 4 * n + (v & 3);
    for (let i = 0; i < n; i++) out[base + 4 * i] = vectors[v * n + i];
  }
}
