/** What a factored matrix says between a few sparse rows. */
import { placeOf } from "../kernels/kernelMemory.ts";
import type { FactorRoom } from "./factorRoom.ts";
import { blockDoubles } from "./solveFactored.ts";

/** Row k has the entries weight[start[k] .. start[k+1]-1] at the unknowns row[..]. */
export interface SparseRows {
  readonly start: Uint32Array;
  readonly row: Uint32Array;
  readonly weight: Float64Array;
}

/**
 * B' A^-1 B (size x size, row by row, symmetric) with B the n x size matrix whose columns are the rows given. With
 * A = L D L' it is Y' D^-1 Y, Y = L^-1 B, and Y is zero but on the way from the rows' supernodes to the root: half a solve, along that
 * way alone. Needs room for one block as solveFactored does.
 */
export function factoredBetween(f: FactorRoom, { start, row, weight }: SparseRows): Float64Array {
  const { kernels, partition, sizes, values, pivots, rowIndex } = f;
  const { numbers, solves } = kernels;
  const { positionOf, size, columnStart, rowStart } = partition;
  const count = start.length - 1;
  const out = new Float64Array(count * count);
  const way = supernodesAbove(f, row);
  let length = 0;
  for (const s of way) length += columnStart[s + 1] - columnStart[s];
  const d = new Float64Array(length);
  const z = new Float64Array(count * length); // D^-1 Y along the way, column after column
  const mark = kernels.mark();
  const block = placeOf(kernels.allocate(blockDoubles(size)));
  for (let c = 0; c < count; c += 4) {
    const width = Math.min(4, count - c);
    numbers.fill(0, block, block + blockDoubles(size));
    for (let k = 0; k < width; k++)
      for (let p = start[c + k]; p < start[c + k + 1]; p++)
        numbers[block + 4 * positionOf[row[p]] + k] += weight[p];
    let at = 0;
    for (const s of way) {
      const first = columnStart[s];
      const w = columnStart[s + 1] - first;
      const strips = (w + rowStart[s + 1] - rowStart[s]) >> 2;
      const front = values + sizes.valueStart[s];
      solves.forward(front, w, strips, pivots + first, block, 0, 1, first, rowIndex + rowStart[s]);
      for (let i = first; i < first + w; i++, at++) {
        d[at] = numbers[pivots + i];
        for (let k = 0; k < width; k++) z[(c + k) * length + at] = numbers[block + 4 * i + k];
      }
    }
  }
  kernels.release(mark);
  const scaled = new Float64Array(length);
  for (let i = 0; i < count; i++) {
    for (let r = 0; r < length; r++) scaled[r] = z[i * length + r] * d[r];
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let r = 0, q = j * length; r < length; r++, q++) sum += scaled[r] * z[q];
      out[count * i + j] = sum;
      out[count * j + i] = sum;
    }
  }
  return out;
}

/** The supernodes of some unknowns and all above them in the tree, ascending. */
function supernodesAbove({ partition }: FactorRoom, unknowns: Uint32Array): Int32Array {
  const { count, size, columnStart, parent, positionOf } = partition;
  const owner = new Int32Array(size);
  for (let s = 0; s < count; s++) owner.fill(s, columnStart[s], columnStart[s + 1]);
  const reached = new Uint8Array(count);
  for (const unknown of unknowns)
    for (let s = owner[positionOf[unknown]]; s >= 0 && reached[s] === 0; s = parent[s]) reached[s] = 1;
  return Int32Array.from(reached.keys()).filter((s) => reached[s] === 1);
}
