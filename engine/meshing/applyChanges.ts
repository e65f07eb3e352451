import { dissolveNode, splitEdge, splitTriangle, walkTo } from "./alterNet.ts";
import type { Changes } from "./refine.ts";
import { after, restoreDelaunay, roomierNet, type TriangleNet } from "./triangleNet.ts";
import { type Draft, edgeKey } from "./triangulate.ts";

/** A draft and its triangles. */
export interface Made {
  readonly draft: Draft;
  readonly net: TriangleNet;
}

/** The draft with the changes made, nodes keeping their numbers; one taken out stays in the list, in no triangle. */
export function applyChanges({ draft, net }: Made, changes: Changes): Made {
  const halves = changes.halve.reduce((sum, is) => sum + is, 0);
  const added = halves + changes.from.length;
  const old = draft.held.length;
  const xy = new Float64Array(2 * (old + added));
  const held = new Uint8Array(old + added);
  xy.set(draft.xy);
  held.set(draft.held);
  const next = roomierNet(net, 2 * added);
  const middles = halveEdges(next, xy, held, changes.halve, old, net.twins.length);
  const set = insertNodes(next, xy, changes, old + halves, middles.end);
  let { end } = set;
  for (const p of changes.remove) {
    end = dissolveNode(next, xy, p, end);
    held[p] = 1;
  }
  const nodes = set.nodes;
  const trimmed = {
    triangles: next.triangles.slice(0, end),
    twins: next.twins.slice(0, end),
    fixed: next.fixed.slice(0, end),
  };
  const kept = xy.slice(0, 2 * nodes);
  restoreDelaunay(trimmed, kept);
  const chains = halves === 0 ? draft.chains : draft.chains.map((chain) => withMiddles(chain, middles.of));
  return { draft: { ...draft, xy: kept, held: held.slice(0, nodes), chains }, net: trimmed };
}

/** Puts a node on the middle of each marked edge, numbered from `first`; `at` = first free half-edge. */
function halveEdges(
  net: TriangleNet,
  xy: Float64Array,
  held: Uint8Array,
  halve: Uint8Array,
  first: number,
  at: number,
): { readonly of: ReadonlyMap<number, number>; readonly end: number } {
  const t = net.triangles;
  const marked: number[] = [];
  for (let e = 0; e < halve.length; e++) if (halve[e] === 1) marked.push(e, t[e], t[after(e)]);
  const of = new Map<number, number>();
  let end = at;
  for (let k = 0; k < marked.length; k += 3) {
    const a = marked[k + 1];
    const b = marked[k + 2];
    const m = first + k / 3;
    xy[2 * m] = (xy[2 * a] + xy[2 * b]) / 2;
    xy[2 * m + 1] = (xy[2 * a + 1] + xy[2 * b + 1]) / 2;
    held[m] = 1;
    of.set(edgeKey(a, b), m);
    // A neighbour's split may have moved the edge into one of the new triangles.
    let e = marked[k];
    if (t[e] !== a || t[after(e)] !== b) for (e = at; t[e] !== a || t[after(e)] !== b; ) e++;
    end = splitEdge(net, e, m, end);
  }
  return { of, end };
}

function withMiddles(chain: Uint32Array, middles: ReadonlyMap<number, number>): Uint32Array {
  const out: number[] = [chain[0]];
  for (let i = 1; i < chain.length; i++) {
    const m = middles.get(edgeKey(chain[i - 1], chain[i]));
    if (m !== undefined) out.push(m);
    out.push(chain[i]);
  }
  return Uint32Array.from(out);
}

/** Puts in the new free nodes, numbered from `first`. Of two nearer than their room, which would undo each other's good, the first wins. */
function insertNodes(
  net: TriangleNet,
  xy: Float64Array,
  { insert, from }: Changes,
  first: number,
  at: number,
): { readonly nodes: number; readonly end: number } {
  const room: number[] = [];
  let nodes = first;
  let end = at;
  for (let k = 0; k < from.length; k++) {
    const x = insert[3 * k];
    const y = insert[3 * k + 1];
    if (isTaken(xy, first, room, x, y, insert[3 * k + 2])) continue;
    const f = walkTo(net, xy, from[k], x, y);
    if (f < 0) continue;
    room.push(insert[3 * k + 2]);
    xy[2 * nodes] = x;
    xy[2 * nodes + 1] = y;
    splitTriangle(net, f, nodes++, end);
    end += 6;
  }
  return { nodes, end };
}

/** Whether one of the new nodes from `first` on is too near. `room`: of each, m. */
function isTaken(
  xy: Float64Array,
  first: number,
  room: readonly number[],
  x: number,
  y: number,
  own: number,
): boolean {
  for (let k = 0; k < room.length; k++) {
    const least = Math.min(own, room[k]);
    const dx = xy[2 * (first + k)] - x;
    const dy = xy[2 * (first + k) + 1] - y;
    if (dx * dx + dy * dy < least * least) return true;
  }
  return false;
}
