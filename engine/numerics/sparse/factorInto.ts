/** The numeric factorisation: multifrontal L D L', supernode after supernode. */
import { placeOf } from "../kernels/kernelMemory.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { type FactorRoom, updateSize } from "./factorRoom.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/** A share of the matrix: factor times a matrix, and where its entries go (entryPlaces). */
export interface MatrixTerm {
  readonly matrix: SparseSymmetric;
  readonly factor: number;
  readonly places: Int32Array;
}

export interface FactorFacts {
  /** Negative pivots: eigenvalues of the matrix below zero (Sylvester). */
  readonly negatives: number;
}

interface FactorDemands {
  /** All pivots must be positive. */
  readonly definite: boolean;
  /** A pivot smaller than this share of the diagonal entry it came from is rounding noise. */
  readonly pivotFloor: number;
}

/** Between two looks at the cancel flag so many supernodes are worked off. */
const stride = 64;

/**
 * Factors the sum of the terms into the room's values and pivots. The stack of updates is allocated and released again.
 * Failures: 'not-positive-definite' or 'singular', naming the unknown; 'cancelled'.
 */
export function factorInto(
  room: FactorRoom,
  terms: readonly MatrixTerm[],
  demands: FactorDemands,
  context: Context,
): Outcome<FactorFacts> {
  const { partition, kernels, sizes } = room;
  const { count, columnStart, rowStart, rowCount, parent } = partition;
  const { numbers, fronts } = kernels;
  fillFronts(room, terms, demands.pivotFloor);
  const mark = kernels.mark();
  const base = placeOf(kernels.allocate(sizes.stack));
  let top = 0;
  // The updates of finished supernodes not yet taken up by their parents, as a stack of [supernode, place].
  const pendingNode: number[] = [];
  const pendingAt: number[] = [];
  for (let s = 0; s < count; s++) {
    if (s % stride === 0 && context.cancelled()) {
      kernels.release(mark);
      return failed("cancelled", `in supernode ${s} of ${count} of the factorisation`);
    }
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const strips = (rowStart[s + 1] - rowStart[s]) >> 2;
    const front = room.values + sizes.valueStart[s];
    const size = updateSize(4 * strips);
    const at = base + top;
    numbers.fill(0, at, at + size);
    let to = at;
    while (pendingNode.length > 0 && parent[pendingNode[pendingNode.length - 1]] === s) {
      const child = pendingNode.pop()!;
      to = pendingAt.pop()!;
      fronts.extendAdd(to, rowCount[child], room.target + rowStart[child], front, w, at);
    }
    const bad = factorFront(room, s, demands.definite);
    if (bad >= 0) {
      kernels.release(mark);
      return refused(room, first + bad, demands.definite);
    }
    if (strips === 0) {
      top = to - base;
      continue;
    }
    fronts.update(front + w * w, w, strips, room.pivots + first, at, room.scratch);
    if (to < at) numbers.copyWithin(to, at, at + size);
    pendingNode.push(s);
    pendingAt.push(to);
    top = to + size - base;
  }
  kernels.release(mark);
  return done({ negatives: negativePivots(room) });
}

/** The columns of one supernode, its children's updates being in; -1 or the column that failed. */
export function factorFront(room: FactorRoom, s: number, definite: boolean): number {
  const { columnStart, rowStart } = room.partition;
  const first = columnStart[s];
  const w = columnStart[s + 1] - first;
  return room.kernels.fronts.factor(
    room.values + room.sizes.valueStart[s],
    w,
    (w + rowStart[s + 1] - rowStart[s]) >> 2,
    room.pivots + first,
    room.floors + first,
    room.scratch,
    definite,
  );
}

/** The failure at a position, naming its unknown. */
export function refused(room: FactorRoom, position: number, definite: boolean): Outcome<never> {
  const { dofAt, n } = room.partition;
  return definite
    ? failed("not-positive-definite", `no positive pivot at degree of freedom ${dofAt[position]} of ${n}`)
    : failed("singular", `the pivot vanishes at degree of freedom ${dofAt[position]} of ${n}`);
}

export function negativePivots({ kernels, pivots, partition }: FactorRoom): number {
  let negatives = 0;
  for (let i = pivots; i < pivots + partition.size; i++) if (kernels.numbers[i] < 0) negatives++;
  return negatives;
}

/** Puts the entries of the matrix into the fronts, and the floors of the pivots. */
function fillFronts(room: FactorRoom, terms: readonly MatrixTerm[], pivotFloor: number): void {
  const { partition, kernels, sizes, values, floors } = room;
  const { numbers } = kernels;
  numbers.fill(0, values, values + sizes.valueStart[partition.count]);
  numbers.fill(0, floors, floors + partition.size);
  for (const { matrix, factor, places } of terms) {
    const v = matrix.values;
    for (let p = 0; p < v.length; p = (p + 1) | 0) numbers[(values + places[p]) | 0] += factor * v[p];
    for (let j = 0; j < matrix.n; j++) {
      const p = matrix.colStart[j];
      if (p < matrix.colStart[j + 1] && matrix.rowIndex[p] === j)
        numbers[floors + partition.positionOf[j]] += pivotFloor * Math.abs(factor * v[p]);
    }
  }
  for (let s = 0; s < partition.count; s++) fillerDiagonal(room, s);
}

/** Ones on the diagonal of the positions that belong to no unknown. */
export function fillerDiagonal(room: FactorRoom, s: number): void {
  const { partition, kernels, sizes, values } = room;
  const first = partition.columnStart[s];
  const w = partition.columnStart[s + 1] - first;
  for (let k = w - 1; k >= 0 && partition.dofAt[first + k] < 0; k--)
    kernels.numbers[values + sizes.valueStart[s] + (k >> 2) * 4 * w + 4 * k + (k & 3)] = 1;
}
