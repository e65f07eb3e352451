/**
 * Symbolic analysis: from an elimination order to the block structure of the Cholesky factor.
 *
 * A SUPERNODE is a run of consecutive columns of L that share their rows below the run, so that L is stored and worked
 * on in dense blocks. Small ones are merged with their parents at the price of some stored zeros.
 */
import type { GroupGraph } from "./groupGraph.ts";

/**
 * POSITIONS are places in the elimination order. Supernode s has the columns columnStart[s] .. columnStart[s+1]-1, always
 * a multiple of four: what its unknowns do not fill is filled up with positions that belong to none (dofAt -1).
 * Its rows below are the positions rowIndex[rowStart[s] ..], rowCount[s] of them, ascending, then filled up to a multiple
 * of four with the position `size`, which lies beyond all others. target runs beside rowIndex: the row's number in the
 * front of the parent, counted from its first column. Supernodes stand in postorder: children before their parent, and
 * parent[s] is -1 for roots.
 */
export interface SupernodePartition {
  readonly count: number;
  /** Unknowns, and positions (fillers included). */
  readonly n: number;
  readonly size: number;
  readonly columnStart: Uint32Array;
  readonly rowStart: Uint32Array;
  readonly rowCount: Uint32Array;
  readonly rowIndex: Int32Array;
  readonly target: Int32Array;
  readonly parent: Int32Array;
  /** Unknown at each position (-1 for none), and position of each unknown. */
  readonly dofAt: Int32Array;
  readonly positionOf: Uint32Array;
}

interface Working {
  readonly columns: number[]; // group ranks, ascending
  rows: Uint32Array; // group ranks below the columns
  width: number; // degrees of freedom
  rowWeight: number;
  zeros: number; // stored for nothing
  children: number[];
}

/** order: the vertices of the graph in elimination order. */
export function supernodePartition(graph: GroupGraph, order: Uint32Array): SupernodePartition {
  const weight = new Uint32Array(graph.count);
  for (let k = 0; k < graph.count; k++)
    weight[k] = graph.memberStart[order[k] + 1] - graph.memberStart[order[k]];
  const structure = columnStructures(graph, order);
  const working = mergedSupernodes(structure, weight);
  return laidOut(graph, order, working);
}

/** For each rank k the ranks > k that have an entry in column k of L, the lowest (the parent) first. */
function columnStructures(graph: GroupGraph, order: Uint32Array): Uint32Array[] {
  const { count, start, neighbours } = graph;
  const rank = new Uint32Array(count);
  for (let k = 0; k < count; k++) rank[order[k]] = k;
  const structure: Uint32Array[] = [];
  const firstChild = new Int32Array(count).fill(-1);
  const nextChild = new Int32Array(count).fill(-1);
  const seen = new Int32Array(count).fill(-1);
  const found = new Uint32Array(count);
  for (let k = 0; k < count; k++) {
    let size = 0;
    seen[k] = k;
    const v = order[k];
    for (let p = start[v]; p < start[v + 1]; p++) {
      const r = rank[neighbours[p]];
      if (r < k || seen[r] === k) continue;
      seen[r] = k;
      found[size++] = r;
    }
    for (let c = firstChild[k]; c >= 0; c = nextChild[c]) {
      const rows = structure[c];
      for (let i = 0; i < rows.length; i++) {
        const r = rows[i];
        if (seen[r] === k) continue;
        seen[r] = k;
        found[size++] = r;
      }
    }
    let lowest = 0;
    for (let i = 1; i < size; i++) if (found[i] < found[lowest]) lowest = i;
    const rows = found.slice(0, size);
    structure.push(rows);
    if (size === 0) continue;
    rows[lowest] = rows[0];
    rows[0] = found[lowest];
    nextChild[k] = firstChild[rows[0]];
    firstChild[rows[0]] = k;
  }
  return structure;
}

/** Indexed by the rank of the topmost column; null where the column was merged into another supernode. */
function mergedSupernodes(structure: readonly Uint32Array[], weight: Uint32Array): (Working | null)[] {
  const supernodes: (Working | null)[] = [];
  const waiting: number[][] = structure.map(() => []);
  for (let k = 0; k < structure.length; k++) {
    const rows = structure[k];
    let rowWeight = 0;
    for (const r of rows) rowWeight += weight[r];
    const s: Working = { columns: [k], rows, width: weight[k], rowWeight, zeros: 0, children: [] };
    const candidates = waiting[k].sort((a, b) => supernodes[b]!.rowWeight - supernodes[a]!.rowWeight);
    for (const c of candidates) {
      const child = supernodes[c]!;
      const newZeros = child.width * (s.width + s.rowWeight - child.rowWeight);
      if (newZeros === 0 || worthMerging(child, s, newZeros)) {
        s.columns.push(...child.columns);
        s.width += child.width;
        s.zeros += child.zeros + newZeros;
        s.children.push(...child.children);
        supernodes[c] = null;
      } else {
        s.children.push(c);
      }
    }
    supernodes.push(s);
    if (rows.length > 0) waiting[rows[0]].push(k);
  }
  return supernodes;
}

/** Dense work on a few zeros is cheaper than the bookkeeping of a narrow block; limits found with timings/eigen.ts. */
function worthMerging(child: Working, parent: Working, newZeros: number): boolean {
  const width = child.width + parent.width;
  const stored = width * (0.5 * width + parent.rowWeight);
  const share = (child.zeros + parent.zeros + newZeros) / stored;
  if (width <= 16) return share < 0.4;
  if (width <= 48) return share < 0.15;
  return share < 0.05;
}

/** Postorder of the supernodes, then everything in degrees of freedom. */
function laidOut(
  graph: GroupGraph,
  order: Uint32Array,
  working: readonly (Working | null)[],
): SupernodePartition {
  const postorder: number[] = [];
  const parentOf = new Map<number, number>();
  const stack: number[] = [];
  working.forEach((s, k) => {
    if (s !== null && s.rows.length === 0) stack.push(k);
    for (const c of s?.children ?? []) parentOf.set(c, k);
  });
  stack.reverse();
  while (stack.length > 0) {
    // Parents before children, read backwards: the smallest update goes last in, so the largest is worked off first.
    const k = stack.pop()!;
    postorder.push(k);
    stack.push(...working[k]!.children.sort((a, b) => working[b]!.rowWeight - working[a]!.rowWeight));
  }
  postorder.reverse();

  const count = postorder.length;
  const n = graph.members.length;
  const index = new Map<number, number>();
  const columnStart = new Uint32Array(count + 1);
  const rowStart = new Uint32Array(count + 1);
  const rowCount = new Uint32Array(count);
  const firstPosition = new Uint32Array(graph.count); // of each rank
  const groupSize = (rank: number): number =>
    graph.memberStart[order[rank] + 1] - graph.memberStart[order[rank]];
  let position = 0;
  postorder.forEach((k, s) => {
    index.set(k, s);
    const node = working[k]!;
    for (const rank of node.columns.sort((a, b) => a - b)) {
      firstPosition[rank] = position;
      position += groupSize(rank);
    }
    position = 4 * Math.ceil(position / 4);
    columnStart[s + 1] = position;
    rowCount[s] = node.rowWeight;
    rowStart[s + 1] = rowStart[s] + 4 * Math.ceil(node.rowWeight / 4);
  });
  const size = position;
  const dofAt = new Int32Array(size).fill(-1);
  const positionOf = new Uint32Array(n);
  for (let rank = 0; rank < graph.count; rank++) {
    const from = graph.memberStart[order[rank]];
    for (let i = 0; i < groupSize(rank); i++) {
      dofAt[firstPosition[rank] + i] = graph.members[from + i];
      positionOf[graph.members[from + i]] = firstPosition[rank] + i;
    }
  }
  const rowIndex = new Int32Array(rowStart[count]).fill(size);
  const parent = new Int32Array(count).fill(-1);
  const rankAt = new Uint32Array(size);
  for (let rank = 0; rank < graph.count; rank++) rankAt[firstPosition[rank]] = rank;
  postorder.forEach((k, s) => {
    let at = rowStart[s];
    const firsts = working[k]!.rows.map((rank) => firstPosition[rank]).sort();
    for (const position of firsts) {
      const groupEnd = position + groupSize(rankAt[position]);
      for (let row = position; row < groupEnd; row++) rowIndex[at++] = row;
    }
    const p = parentOf.get(k);
    if (p !== undefined) parent[s] = index.get(p)!;
  });
  const target = targets(count, size, columnStart, rowStart, rowCount, rowIndex, parent);
  return { count, n, size, columnStart, rowStart, rowCount, rowIndex, target, parent, dofAt, positionOf };
}

function targets(
  count: number,
  size: number,
  columnStart: Uint32Array,
  rowStart: Uint32Array,
  rowCount: Uint32Array,
  rowIndex: Int32Array,
  parent: Int32Array,
): Int32Array {
  const target = new Int32Array(rowIndex.length);
  const children: number[][] = Array.from({ length: count }, () => []);
  parent.forEach((p, s) => {
    if (p >= 0) children[p].push(s);
  });
  const local = new Int32Array(size);
  for (let s = 0; s < count; s++) {
    if (children[s].length === 0) continue;
    const first = columnStart[s];
    const end = columnStart[s + 1];
    for (let i = 0; i < rowCount[s]; i++) local[rowIndex[rowStart[s] + i]] = end - first + i;
    for (const child of children[s]) {
      for (let q = rowStart[child]; q < rowStart[child] + rowCount[child]; q++) {
        const position = rowIndex[q];
        target[q] = position < end ? position - first : local[position];
      }
    }
  }
  return target;
}
