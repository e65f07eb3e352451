import { invariant } from "../outcome.ts";
import type { SupernodePartition } from "./supernodes.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/**
 * Where each stored entry of A (by its index in A.values) goes in the values of the factor; layout of a front as in
 * kernels/fronts.ts, front after front, that of supernode s from valueStart[s]. Depends on patterns only.
 */
export function entryPlaces(
  a: Pick<SparseSymmetric, "n" | "colStart" | "rowIndex">,
  partition: SupernodePartition,
  valueStart: Float64Array,
): Int32Array {
  const { count, size, columnStart, rowStart, rowCount, rowIndex, positionOf } = partition;
  const supernodeAt = new Int32Array(size);
  for (let s = 0; s < count; s++) supernodeAt.fill(s, columnStart[s], columnStart[s + 1]);
  // The entries of each supernode together, so that its table of rows is filled once.
  const start = new Uint32Array(count + 1);
  const owner = new Int32Array(a.rowIndex.length);
  for (let j = 0; j < a.n; j++) {
    const pj = positionOf[j];
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      const s = supernodeAt[Math.min(positionOf[a.rowIndex[p]], pj)];
      owner[p] = s;
      start[s + 1]++;
    }
  }
  for (let s = 0; s < count; s++) start[s + 1] += start[s];
  const entry = new Int32Array(owner.length);
  const columnOf = new Int32Array(owner.length);
  const next = start.slice(0, count);
  for (let j = 0; j < a.n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      const at = next[owner[p]]++;
      entry[at] = p;
      columnOf[at] = j;
    }
  }
  const places = new Int32Array(owner.length);
  const local = new Int32Array(size).fill(-1);
  for (let s = 0; s < count; s++) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    for (let k = 0; k < w; k++) local[first + k] = k;
    for (let i = 0; i < rowCount[s]; i++) local[rowIndex[rowStart[s] + i]] = w + i;
    for (let q = start[s]; q < start[s + 1]; q++) {
      const p = entry[q];
      const pi = positionOf[a.rowIndex[p]];
      const pj = positionOf[columnOf[q]];
      const row = local[Math.max(pi, pj)];
      invariant(row >= 0, () => `entry (${pi}, ${pj}) is outside the analysed pattern`);
      places[p] = valueStart[s] + (row >> 2) * 4 * w + 4 * (Math.min(pi, pj) - first) + (row & 3);
    }
    for (let k = 0; k < w; k++) local[first + k] = -1;
    for (let i = 0; i < rowCount[s]; i++) local[rowIndex[rowStart[s] + i]] = -1;
  }
  return places;
}
