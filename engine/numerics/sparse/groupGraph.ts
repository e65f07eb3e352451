/** The graph of a sparse matrix with its degrees of freedom gathered in groups (the nodes of a mesh). */
import { invariant } from "../invariant.ts";
import type { SparseSymmetric } from "./symmetric.ts";

/**
 * Undirected graph: the neighbours of vertex v are neighbours[start[v] .. start[v+1]-1], itself not among them.
 * members[memberStart[v] ..]: the degrees of freedom of the group, ascending.
 */
export interface GroupGraph {
  readonly count: number;
  readonly start: Uint32Array;
  readonly neighbours: Uint32Array;
  readonly memberStart: Uint32Array;
  readonly members: Uint32Array;
}

/** group: any label for each degree of freedom; unused labels do not become vertices. Without it each stands alone. */
export function groupGraph(a: SparseSymmetric, group?: Uint32Array): GroupGraph {
  const { n, colStart, rowIndex } = a;
  invariant(group === undefined || group.length === n, () => `${group?.length} group labels for ${n} rows`);
  const { vertex, count } = compactLabels(n, group);
  const memberStart = new Uint32Array(count + 1);
  for (let i = 0; i < n; i++) memberStart[vertex[i] + 1]++;
  for (let v = 0; v < count; v++) memberStart[v + 1] += memberStart[v];
  const members = new Uint32Array(n);
  const fill = memberStart.slice(0, count);
  for (let i = 0; i < n; i++) members[fill[vertex[i]]++] = i;

  // Each pair once from its lower-triangle side, then mirrored.
  const seen = new Int32Array(count).fill(-1);
  let pairs = 0;
  const from = new Uint32Array(rowIndex.length);
  const to = new Uint32Array(rowIndex.length);
  for (let v = 0; v < count; v++) {
    for (let q = memberStart[v]; q < memberStart[v + 1]; q++) {
      const j = members[q];
      for (let p = colStart[j]; p < colStart[j + 1]; p++) {
        const u = vertex[rowIndex[p]];
        if (u !== v && seen[u] !== v) {
          seen[u] = v;
          from[pairs] = v;
          to[pairs++] = u;
        }
      }
    }
  }
  const doubled = new Uint32Array(count + 1);
  for (let e = 0; e < pairs; e++) {
    doubled[from[e] + 1]++;
    doubled[to[e] + 1]++;
  }
  for (let v = 0; v < count; v++) doubled[v + 1] += doubled[v];
  const both = new Uint32Array(2 * pairs);
  const place = doubled.slice(0, count);
  for (let e = 0; e < pairs; e++) {
    both[place[from[e]]++] = to[e];
    both[place[to[e]]++] = from[e];
  }
  return { count, ...withoutRepeats(count, doubled, both), memberStart, members };
}

function compactLabels(n: number, group: Uint32Array | undefined): { vertex: Uint32Array; count: number } {
  if (group === undefined) return { vertex: Uint32Array.from({ length: n }, (_, i) => i), count: n };
  let highest = 0;
  for (const g of group) if (g > highest) highest = g;
  const compact = new Int32Array(highest + 1).fill(-1);
  let count = 0;
  const vertex = new Uint32Array(n);
  for (let i = 0; i < n; i++) {
    if (compact[group[i]] < 0) compact[group[i]] = count++;
    vertex[i] = compact[group[i]];
  }
  return { vertex, count };
}

/** A pair of groups may have been met from both sides when their rows interleave. */
function withoutRepeats(
  count: number,
  start: Uint32Array,
  list: Uint32Array,
): { start: Uint32Array; neighbours: Uint32Array } {
  const seen = new Int32Array(count).fill(-1);
  const newStart = new Uint32Array(count + 1);
  let kept = 0;
  for (let v = 0; v < count; v++) {
    for (let p = start[v]; p < start[v + 1]; p++) {
      const u = list[p];
      if (seen[u] === v) continue;
      seen[u] = v;
      list[kept++] = u;
    }
    newStart[v + 1] = kept;
  }
  return { start: newStart, neighbours: list.slice(0, kept) };
}
