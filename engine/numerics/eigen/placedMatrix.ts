import { placeOf } from "../kernels/kernelMemory.ts";
import type { Kernels } from "../kernels/kernels.ts";

/** A sparse symmetric matrix in the memory of the kernels: places of its three arrays, layout as in SparseSymmetric. */
export interface PlacedMatrix {
  readonly n: number;
  readonly colStart: number;
  readonly rowIndex: number;
  readonly values: number;
}

/** A matrix whose columns are given, of which only the entries other than zero are taken along. */
export function placeCompact(
  kernels: Kernels,
  a: { readonly n: number; readonly colStart: Uint32Array; readonly rowIndex: Uint32Array },
  values: Float64Array,
): PlacedMatrix {
  let count = 0;
  for (const v of values) if (v !== 0) count++;
  const colStart = kernels.allocateIndices(a.n + 1);
  const rowIndex = kernels.allocateIndices(count);
  const kept = kernels.allocate(count);
  let at = 0;
  for (let j = 0; j < a.n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      if (values[p] === 0) continue;
      rowIndex[at] = a.rowIndex[p];
      kept[at++] = values[p];
    }
    colStart[j + 1] = at;
  }
  return { n: a.n, colStart: placeOf(colStart), rowIndex: placeOf(rowIndex), values: placeOf(kept) };
}

/** y := A x for one block of four vectors, by places. */
export function multiplyPlaced(kernels: Kernels, a: PlacedMatrix, x: number, y: number): void {
  kernels.blocks.multiply(a.n, a.colStart, a.rowIndex, a.values, x, y);
}
