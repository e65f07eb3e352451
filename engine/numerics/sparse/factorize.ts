/** Multifrontal supernodal Cholesky factorisation of a sparse symmetric positive definite matrix. */
import { done, failed, invariant, type Outcome } from "../outcome.ts";
import { groupGraph } from "./groupGraph.ts";
import { minimumDegreeOrder } from "./minimumDegree.ts";
import { factorDiagonal, solvePanel, subtractOuterProduct } from "./panels.ts";
import { type SupernodePartition, supernodePartition } from "./supernodes.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/**
 * P A P' = L L'. For each supernode, at valueStart: its diagonal block (w x w, row by row, lower triangle), then the
 * panel below it in strips of four rows (see panels.ts).
 */
export interface CholeskyFactor {
  readonly n: number;
  readonly partition: SupernodePartition;
  readonly valueStart: Float64Array;
  readonly values: Float64Array;
}

export interface FactorizeOptions {
  /** Node of each degree of freedom: the elimination order is sought on the graph of nodes. */
  readonly group?: Uint32Array;
  /** An analysis of a matrix with the same pattern (or a larger one), to be used again. */
  readonly analysis?: SupernodePartition;
}

/** Finds the elimination order and the block structure of the factor; depends on the pattern only. */
export function analysePattern(a: SparseSymmetric, group?: Uint32Array): SupernodePartition {
  const graph = groupGraph(a, group);
  return supernodePartition(graph, minimumDegreeOrder(graph));
}

/** A pivot below this share of the diagonal entry it came from is rounding noise: the matrix is not safely positive. */
const pivotFloor = 1e-13;

/** Cholesky factor of A, or 'not-positive-definite' naming the degree of freedom where it failed. */
export function factorize(a: SparseSymmetric, options: FactorizeOptions = {}): Outcome<CholeskyFactor> {
  const partition = options.analysis ?? analysePattern(a, options.group);
  invariant(partition.dofAt.length === a.n, () => `an analysis of ${partition.dofAt.length} rows for ${a.n}`);
  const { count, columnStart, rowStart, rowIndex, parent, dofAt } = partition;
  const { valueStart, valueCount, stackSize, widest } = sizes(partition);
  const values = new Float64Array(valueCount);
  const floors = scatterMatrix(a, partition, valueStart, values);

  const stack = new Float64Array(stackSize);
  let top = 0;
  // The updates of finished supernodes not yet taken up by their parents, as a stack of [supernode, place].
  const pendingNode: number[] = [];
  const pendingAt: number[] = [];
  const floor = new Float64Array(widest);
  const local = new Int32Array(a.n);
  for (let s = 0; s < count; s++) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const r = rowStart[s + 1] - rowStart[s];
    const strips = (r + 3) >> 2;
    const side = 4 * strips;
    const panel = valueStart[s] + w * w;
    const at = top;
    stack.fill(0, at, at + side * side);
    for (let i = 0; i < r; i++) local[rowIndex[rowStart[s] + i]] = i;
    let base = at;
    while (pendingNode.length > 0 && parent[pendingNode[pendingNode.length - 1]] === s) {
      const child = pendingNode.pop()!;
      base = pendingAt.pop()!;
      addChild(partition, child, stack, base, s, values, valueStart[s], at, local);
    }
    for (let j = 0; j < w; j++) floor[j] = floors[first + j];
    const bad = factorDiagonal(values, valueStart[s], w, floor);
    if (bad >= 0) {
      const dof = dofAt[first + bad];
      return failed("not-positive-definite", `no positive pivot at degree of freedom ${dof} of ${a.n}`);
    }
    if (r === 0) {
      top = base;
      continue;
    }
    solvePanel(values, valueStart[s], panel, w, strips);
    subtractOuterProduct(stack, at, values, panel, w, strips);
    if (base < at) stack.copyWithin(base, at, at + side * side);
    pendingNode.push(s);
    pendingAt.push(base);
    top = base + side * side;
  }
  return done({ n: a.n, partition, valueStart, values });
}

function sizes(partition: SupernodePartition) {
  const { count, columnStart, rowStart, parent } = partition;
  const valueStart = new Float64Array(count + 1);
  const ends: number[] = [];
  const owners: number[] = [];
  let top = 0;
  let stackSize = 0;
  let widest = 0;
  for (let s = 0; s < count; s++) {
    const w = columnStart[s + 1] - columnStart[s];
    const side = 4 * ((rowStart[s + 1] - rowStart[s] + 3) >> 2);
    widest = Math.max(widest, w);
    valueStart[s + 1] = valueStart[s] + w * w + side * w;
    stackSize = Math.max(stackSize, top + side * side);
    while (owners.length > 0 && parent[owners[owners.length - 1]] === s) {
      owners.pop();
      top = ends.pop()!;
    }
    if (side === 0) continue;
    owners.push(s);
    ends.push(top);
    top += side * side;
  }
  return { valueStart, valueCount: valueStart[count], stackSize, widest };
}

/** Puts the entries of A into the blocks of L; returns the pivot floor of each position. */
function scatterMatrix(
  a: SparseSymmetric,
  partition: SupernodePartition,
  valueStart: Float64Array,
  values: Float64Array,
): Float64Array {
  const { count, columnStart, rowStart, rowIndex, positionOf } = partition;
  const { n, colStart } = a;
  const floors = new Float64Array(n);
  const supernodeAt = new Uint32Array(n);
  for (let s = 0; s < count; s++) supernodeAt.fill(s, columnStart[s], columnStart[s + 1]);
  for (let j = 0; j < n; j++) {
    const pj = positionOf[j];
    for (let p = colStart[j]; p < colStart[j + 1]; p++) {
      const pi = positionOf[a.rowIndex[p]];
      const column = Math.min(pi, pj);
      const row = Math.max(pi, pj);
      const s = supernodeAt[column];
      const w = columnStart[s + 1] - columnStart[s];
      const k = column - columnStart[s];
      if (row < columnStart[s + 1]) {
        values[valueStart[s] + (row - columnStart[s]) * w + k] += a.values[p];
        if (row === column) floors[row] = pivotFloor * Math.abs(a.values[p]);
        continue;
      }
      let low = rowStart[s];
      let high = rowStart[s + 1] - 1;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (rowIndex[middle] < row) low = middle + 1;
        else high = middle;
      }
      invariant(rowIndex[low] === row, () => `entry (${row}, ${column}) is outside the analysed pattern`);
      const i = low - rowStart[s];
      values[valueStart[s] + w * w + (i >> 2) * 4 * w + 4 * k + (i & 3)] += a.values[p];
    }
  }
  return floors;
}

/** Adds a child's update matrix to the blocks of its parent s: diagonal block and panel of L, and s's own update. */
function addChild(
  partition: SupernodePartition,
  child: number,
  stack: Float64Array,
  from: number,
  s: number,
  values: Float64Array,
  diagonal: number,
  at: number,
  local: Int32Array,
): void {
  const { columnStart, rowStart, rowIndex } = partition;
  const first = columnStart[s];
  const end = columnStart[s + 1];
  const w = end - first;
  const panel = diagonal + w * w;
  const side = 4 * ((rowStart[s + 1] - rowStart[s] + 3) >> 2);
  const rows = rowStart[child + 1] - rowStart[child];
  const childSide = 4 * ((rows + 3) >> 2);
  const target = new Int32Array(rows);
  let inside = 0; // rows of the child that are columns of s come first, both being ascending
  for (let i = 0; i < rows; i++) {
    const position = rowIndex[rowStart[child] + i];
    if (position < end) {
      target[i] = position - first;
      inside++;
    } else {
      target[i] = local[position];
    }
  }
  for (let i = 0; i < inside; i++) {
    const source = from + i * childSide;
    const to = diagonal + target[i] * w;
    for (let j = 0; j <= i; j++) values[to + target[j]] += stack[source + j];
  }
  for (let i = inside; i < rows; i++) {
    const source = from + i * childSide;
    const strip = panel + (target[i] >> 2) * 4 * w + (target[i] & 3);
    for (let j = 0; j < inside; j++) values[strip + 4 * target[j]] += stack[source + j];
    const to = at + target[i] * side;
    for (let j = inside; j <= i; j++) stack[to + target[j]] += stack[source + j];
  }
}
