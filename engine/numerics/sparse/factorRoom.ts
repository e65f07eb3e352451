/** Where a factor and what its making needs stand in the memory of the kernels. */
import { scratchDoubles } from "../kernels/fronts.ts";
import { placeOf } from "../kernels/kernelMemory.ts";
import type { Kernels } from "../kernels/kernels.ts";
import type { SupernodePartition } from "./supernodes.ts";

/** What a factorisation of this partition takes, in doubles. Depends on the pattern only. */
export interface FactorSizes {
  /** Start of each supernode's front within the values; the last entry is their whole length. */
  readonly valueStart: Float64Array;
  /** Start of each supernode's update matrix, where all of them are kept; the last is their whole length. */
  readonly updateStart: Float64Array;
  /**
   * Where updates are dropped after use, they stand on two stacks by the parity of their depth in the tree (1: odd), so
   * that a front's own update never lies above those it takes up. Lengths of the two.
   */
  readonly odd: Uint8Array;
  readonly stacks: readonly [number, number];
  /** Length of the scratch that the kernels work with. */
  readonly scratch: number;
}

/** Places of everything; the fields as in SupernodePartition and FactorSizes. */
export interface FactorRoom {
  readonly partition: SupernodePartition;
  readonly kernels: Kernels;
  readonly sizes: FactorSizes;
  readonly values: number;
  readonly pivots: number;
  readonly floors: number;
  readonly scratch: number;
  /** Places in indices. */
  readonly rowIndex: number;
  readonly target: number;
}

export function factorSizes(partition: SupernodePartition): FactorSizes {
  const { count, columnStart, rowStart, parent } = partition;
  const valueStart = new Float64Array(count + 1);
  const updateStart = new Float64Array(count + 1);
  const odd = new Uint8Array(count);
  for (let s = count - 1; s >= 0; s--) odd[s] = parent[s] < 0 ? 0 : 1 - odd[parent[s]];
  const tops = [0, 0];
  const stacks: [number, number] = [0, 0];
  const pending: number[] = [];
  let widest = 0;
  for (let s = 0; s < count; s++) {
    const w = columnStart[s + 1] - columnStart[s];
    const below = rowStart[s + 1] - rowStart[s];
    const update = updateSize(below);
    widest = Math.max(widest, w);
    valueStart[s + 1] = valueStart[s] + (w + below) * w;
    updateStart[s + 1] = updateStart[s] + update;
    stacks[odd[s]] = Math.max(stacks[odd[s]], tops[odd[s]] + update);
    tops[odd[s]] += update;
    while (pending.length > 0 && parent[pending[pending.length - 1]] === s) {
      const child = pending.pop()!;
      tops[odd[child]] -= updateStart[child + 1] - updateStart[child];
    }
    if (below > 0) pending.push(s);
  }
  return { valueStart, updateStart, odd, stacks, scratch: scratchDoubles(widest) };
}

/** Doubles of an update matrix of so many rows (a multiple of four): strips, each up to its diagonal tile. */
export function updateSize(rows: number): number {
  const strips = rows >> 2;
  return 8 * strips * (strips + 1);
}

/** Doubles that factorRoom allocates (the stacks of updates not among them). */
export function factorDoubles(partition: SupernodePartition, sizes: FactorSizes): number {
  const { count, size, rowIndex } = partition;
  return sizes.valueStart[count] + 2 * size + sizes.scratch + rowIndex.length + 16;
}

export function factorRoom(partition: SupernodePartition, sizes: FactorSizes, kernels: Kernels): FactorRoom {
  const { count, size } = partition;
  const rowIndex = kernels.allocateIndices(partition.rowIndex.length);
  const target = kernels.allocateIndices(partition.target.length);
  rowIndex.set(partition.rowIndex);
  target.set(partition.target);
  return {
    partition,
    kernels,
    sizes,
    rowIndex: placeOf(rowIndex),
    target: placeOf(target),
    pivots: placeOf(kernels.allocate(size)),
    floors: placeOf(kernels.allocate(size)),
    scratch: placeOf(kernels.allocate(sizes.scratch)),
    values: placeOf(kernels.allocate(sizes.valueStart[count])),
  };
}

/** Doubles of the stacks of updates. */
export function stackDoubles({ stacks }: FactorSizes): number {
  return stacks[0] + stacks[1] + 4;
}
