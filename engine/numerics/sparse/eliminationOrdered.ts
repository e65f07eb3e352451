import type { SupernodePartition } from "./supernodes.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/**
 * The matrix with its rows and columns in elimination order (size x size, fillers empty), and without stored zeros (element mass matrices share the
 * stiffness pattern but fill little of it).
 */
export function eliminationOrdered(a: SparseSymmetric, partition: SupernodePartition): SparseSymmetric {
  const { n } = a;
  const { positionOf, size } = partition;
  // Twice bucketed: by row first, so that the columns then fill up with ascending rows.
  const rowStart = new Uint32Array(size + 1);
  const colStart = new Uint32Array(size + 1);
  for (let j = 0; j < n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      if (a.values[p] === 0) continue;
      const i = positionOf[a.rowIndex[p]];
      rowStart[Math.max(i, positionOf[j]) + 1]++;
      colStart[Math.min(i, positionOf[j]) + 1]++;
    }
  }
  for (let i = 0; i < size; i++) {
    rowStart[i + 1] += rowStart[i];
    colStart[i + 1] += colStart[i];
  }
  const columnOf = new Uint32Array(rowStart[size]);
  const byRow = new Float64Array(rowStart[size]);
  const nextInRow = rowStart.slice(0, size);
  for (let j = 0; j < n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      if (a.values[p] === 0) continue;
      const i = positionOf[a.rowIndex[p]];
      const at = nextInRow[Math.max(i, positionOf[j])]++;
      columnOf[at] = Math.min(i, positionOf[j]);
      byRow[at] = a.values[p];
    }
  }
  const rowIndex = new Uint32Array(byRow.length);
  const values = new Float64Array(byRow.length);
  const nextInColumn = colStart.slice(0, size);
  for (let row = 0; row < size; row++) {
    for (let q = rowStart[row]; q < rowStart[row + 1]; q++) {
      const at = nextInColumn[columnOf[q]]++;
      rowIndex[at] = row;
      values[at] = byRow[q];
    }
  }
  return { n: size, colStart, rowIndex, values };
}
