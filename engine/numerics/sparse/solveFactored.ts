/** Triangular solves with a supernodal factor, four right-hand sides to a block. */

import { invariant } from "../invariant.ts";
import { placeOf } from "../kernels/kernelMemory.ts";
import type { FactorRoom } from "./factorRoom.ts";

/** Doubles of a block of four vectors by position, with the row of zeros that fillers point at. */
export function blockDoubles(size: number): number {
  return 4 * size + 4;
}

/**
 * Solves A x = b. b and the result: n x columns, column after column (out may be b). Needs room for one block in the
 * kernels' memory beyond the factor, which the released stack of the factorisation leaves; makes do with it.
 */
export function solveFactored(
  f: FactorRoom,
  b: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(f.partition.n * columns),
): Float64Array {
  const { kernels, partition } = f;
  const { n, positionOf, size } = partition;
  invariant(b.length >= n * columns && out.length >= n * columns, () => "vectors shorter than the factor");
  const mark = kernels.mark();
  const block = kernels.allocate(blockDoubles(size));
  for (let c = 0; c < columns; c += 4) {
    const width = Math.min(4, columns - c);
    block.fill(0);
    for (let k = 0; k < width; k++)
      for (let i = 0; i < n; i++) block[4 * positionOf[i] + k] = b[(c + k) * n + i];
    solveBlocks(f, placeOf(block), 0, 1);
    for (let k = 0; k < width; k++)
      for (let i = 0; i < n; i++) out[(c + k) * n + i] = block[4 * positionOf[i] + k];
  }
  kernels.release(mark);
  return out;
}

/**
 * Solves A x = b IN PLACE for `blocks` blocks of four right-hand sides, interleaved and in elimination order: side c of
 * the unknown at position p stands at x + 4 p + c, the next block `stride` doubles on. Fillers and the row beyond the
 * last position must be zero and stay so.
 */
export function solveBlocks(room: FactorRoom, x: number, stride: number, blocks: number): void {
  const { partition, sizes, kernels, values, pivots, rowIndex } = room;
  const { count, columnStart, rowStart } = partition;
  const { solves } = kernels;
  for (let s = 0; s < count; s++) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const strips = (w + rowStart[s + 1] - rowStart[s]) >> 2;
    solves.forward(
      values + sizes.valueStart[s],
      w,
      strips,
      pivots + first,
      x,
      stride,
      blocks,
      first,
      rowIndex + rowStart[s],
    );
  }
  for (let s = count - 1; s >= 0; s--) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const strips = (w + rowStart[s + 1] - rowStart[s]) >> 2;
    solves.backward(
      values + sizes.valueStart[s],
      w,
      strips,
      x,
      stride,
      blocks,
      first,
      rowIndex + rowStart[s],
    );
  }
}
