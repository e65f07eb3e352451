import { placeOf } from "../kernels/kernelMemory.ts";
import type { Kernels } from "../kernels/kernels.ts";
import type { SparseSymmetric } from "../sparse/symmetric.ts";

/** A sparse symmetric matrix in the memory of the kernels: places of its three arrays. */
export interface PlacedMatrix {
  readonly n: number;
  readonly colStart: number;
  readonly rowIndex: number;
  readonly values: number;
}

/** Doubles it takes there. */
export function placedDoubles(a: SparseSymmetric): number {
  return a.values.length + ((a.rowIndex.length + a.colStart.length) >> 1) + 8;
}

export function placeMatrix(kernels: Kernels, a: SparseSymmetric): PlacedMatrix {
  const colStart = kernels.allocateIndices(a.colStart.length);
  const rowIndex = kernels.allocateIndices(a.rowIndex.length);
  const values = kernels.allocate(a.values.length);
  colStart.set(a.colStart);
  rowIndex.set(a.rowIndex);
  values.set(a.values);
  return { n: a.n, colStart: placeOf(colStart), rowIndex: placeOf(rowIndex), values: placeOf(values) };
}

/** y := A x for one block of four vectors, by places. */
export function multiplyPlaced(kernels: Kernels, a: PlacedMatrix, x: number, y: number): void {
  kernels.blocks.multiply(a.n, a.colStart, a.rowIndex, a.values, x, y);
}
