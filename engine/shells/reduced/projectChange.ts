import { type KernelSource, placeOf, type SparseSymmetric } from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";

/** Length of a packed symmetric matrix (lower triangle, row by row). */
export function packedLength(count: number): number {
  return (count * (count + 1)) / 2;
}

/**
 * V' P' A P V for matrices A on the motions of a map P, and vectors V (`whole` x n, vector after vector), or those of them
 * named in `columns`: packed lower triangles, one by matrix. All matrices share the pattern of the first. The cost is that of the motions alone: entries
 * of A times count, and motions times count squared / 2.
 */
export function projected(
  matrices: readonly SparseSymmetric[],
  motions: MotionMap,
  vectors: Float64Array,
  whole: number,
  source: KernelSource,
  columns?: Uint32Array,
): Float64Array[] {
  const m = motions.start.length - 1;
  const n = vectors.length / whole;
  const count = columns?.length ?? whole;
  const [{ colStart, rowIndex }] = matrices;
  const blocks = Math.ceil(count / 4);
  const stride = 4 * m;
  const doubles =
    blocks * stride + stride + 16 * blocks + rowIndex.length + (colStart.length + rowIndex.length) / 2;
  const kernels = source(Math.ceil(doubles) + 64);
  const q = kernels.allocate(blocks * stride);
  for (let v = 0; v < count; v++) {
    const base = (v >> 2) * stride + (v & 3);
    const from = (columns?.[v] ?? v) * n;
    for (let k = 0; k < m; k++) {
      let sum = 0;
      for (let p = motions.start[k]; p < motions.start[k + 1]; p++)
        sum += motions.weight[p] * vectors[from + motions.row[p]];
      q[base + 4 * k] = sum;
    }
  }
  const z = kernels.allocate(stride);
  const c = kernels.allocate(16 * blocks);
  const values = kernels.allocate(rowIndex.length);
  const starts = kernels.allocateIndices(colStart.length);
  const rows = kernels.allocateIndices(rowIndex.length);
  starts.set(colStart);
  rows.set(rowIndex);
  const place = placeOf(q);
  return matrices.map((a) => {
    const out = new Float64Array(packedLength(count));
    // a change of stiffness alone, or of mass
    if (!a.values.some((v) => v !== 0)) return out;
    values.set(a.values);
    for (let k = 0; k < blocks; k++) {
      kernels.blocks.multiply(
        m,
        placeOf(starts),
        placeOf(rows),
        placeOf(values),
        place + k * stride,
        placeOf(z),
      );
      // rows 4k .. 4k+3 of the product against the columns up to their own
      kernels.blocks.products(place, stride, k + 1, placeOf(z), stride, 1, m, placeOf(c));
      for (let b = 0; b <= k; b++) {
        for (let i = 0; i < 4; i++) {
          const row = 4 * k + i;
          if (row >= count) break;
          for (let j = 0; j < 4; j++) {
            const column = 4 * b + j;
            if (column <= row) out[packedLength(row) + column] = c[16 * b + 4 * j + i];
          }
        }
      }
    }
    return out;
  });
}
