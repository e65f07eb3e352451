/** The numeric factorisation: multifrontal L D L', supernode after supernode. */
import { placeOf } from "../kernels/kernelMemory.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { type FactorRoom, updateSize } from "./factorRoom.ts";
import type { OrderedPattern } from "./orderedPattern.ts";

/** The matrix to factor, as a sum of factor times values, all on one ordered pattern. */
export interface FactorInput {
  readonly pattern: OrderedPattern;
  /** Whether the values stand in the order of the pattern, or as the matrix came. */
  readonly ordered: boolean;
  /** One or two. */
  readonly terms: readonly { readonly values: Float64Array; readonly factor: number }[];
}

export interface FactorFacts {
  /** Negative pivots: eigenvalues of the matrix below zero (Sylvester). */
  readonly negatives: number;
}

export interface FactorDemands {
  /** All pivots must be positive. */
  readonly definite: boolean;
  /** A pivot smaller than this share of the diagonal entry it came from is rounding noise. */
  readonly pivotFloor: number;
}

/** Between two looks at the cancel flag so many supernodes are worked off. */
const stride = 64;

/**
 * Factors the input into the room's values and pivots. The stacks of updates are allocated and released again.
 * Failures: 'not-positive-definite' or 'singular', naming the unknown; 'cancelled'.
 */
export function factorInto(
  room: FactorRoom,
  input: FactorInput,
  demands: FactorDemands,
  context: Context,
): Outcome<FactorFacts> {
  const { partition, kernels, sizes } = room;
  const { count, columnStart, rowStart, rowCount, parent } = partition;
  const { numbers, fronts } = kernels;
  const {
    values,
    floors,
    partition: { size },
  } = room;
  numbers.fill(0, values, values + sizes.valueStart[count]);
  numbers.fill(0, floors, floors + size);
  for (let s = 0; s < count; s++) fillFront(room, input, s, demands.pivotFloor);
  const mark = kernels.mark();
  const tops = sizes.stacks.map((length) => placeOf(kernels.allocate(length)));
  // Finished supernodes whose updates their parents have not yet taken up.
  const pending: number[] = [];
  for (let s = 0; s < count; s++) {
    if (s % stride === 0 && context.cancelled()) {
      kernels.release(mark);
      return failed("cancelled", `in supernode ${s} of ${count} of the factorisation`);
    }
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const strips = (rowStart[s + 1] - rowStart[s]) >> 2;
    const front = room.values + sizes.valueStart[s];
    const at = tops[sizes.odd[s]];
    const end = at + updateSize(4 * strips);
    const leaf = pending.length === 0 || parent[pending[pending.length - 1]] !== s;
    if (!leaf) numbers.fill(0, at, end);
    while (pending.length > 0 && parent[pending[pending.length - 1]] === s) {
      const child = pending.pop()!;
      const from = tops[1 - sizes.odd[s]] - updateSize(rowStart[child + 1] - rowStart[child]);
      fronts.extendAdd(from, rowCount[child], room.target + rowStart[child], front, w, at);
      tops[1 - sizes.odd[s]] = from;
    }
    const bad = factorFront(room, s, demands.definite);
    if (bad >= 0) {
      kernels.release(mark);
      return refused(room, first + bad, demands.definite);
    }
    if (strips === 0) continue;
    fronts.update(front + w * w, w, strips, room.pivots + first, at, room.scratch, leaf);
    pending.push(s);
    tops[sizes.odd[s]] = end;
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

/**
 * Adds the entries of the matrix to the front of one supernode and its share of their diagonal to the floors of the
 * pivots, both zero before; ones go on the diagonal of the positions that belong to no unknown.
 */
export function fillFront(room: FactorRoom, input: FactorInput, s: number, pivotFloor: number): void {
  const { partition, kernels, sizes, values, floors } = room;
  const { numbers } = kernels;
  const { colStart, place, rowIndex } = input.pattern;
  const first = partition.columnStart[s];
  const end = partition.columnStart[s + 1];
  const { factor: alpha, values: a } = input.terms[0];
  const { factor: beta, values: b } = input.terms[1] ?? { factor: 0, values: a };
  const { ordered, pattern } = input;
  if (ordered)
    for (let q = colStart[first]; q < colStart[end]; q = (q + 1) | 0)
      numbers[(values + place[q]) | 0] += alpha * a[q] + beta * b[q];
  else
    for (let q = colStart[first]; q < colStart[end]; q = (q + 1) | 0)
      numbers[(values + place[q]) | 0] += alpha * a[pattern.source[q]] + beta * b[pattern.source[q]];
  for (let j = first; j < end; j++) {
    const q = colStart[j];
    if (q === colStart[j + 1] || rowIndex[q] !== j) continue;
    const from = ordered ? q : pattern.source[q];
    numbers[floors + j] = pivotFloor * (Math.abs(alpha * a[from]) + Math.abs(beta * b[from]));
  }
  const w = end - first;
  for (let k = w - 1; k >= 0 && partition.dofAt[first + k] < 0; k--)
    numbers[values + sizes.valueStart[s] + (k >> 2) * 4 * w + 4 * k + (k & 3)] = 1;
}
