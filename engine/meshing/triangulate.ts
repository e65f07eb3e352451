/** Constrained Delaunay triangulation of a region from its nodes, its boundary loops and the edges that must stay. */
import Constrainautor from "@kninnug/constrainautor";
import Delaunator from "delaunator";
import { polygonBounds } from "#engine/geometry";
import { after, restoreDelaunay, type TriangleNet } from "./triangleNet.ts";

/** What the steps after the arrangement hand on and alter. */
export interface Draft {
  /** x,y by node. */
  readonly xy: Float64Array;
  /** 1 for the nodes that lie on a leg and stay where they are. */
  readonly held: Uint8Array;
  /** Node chain of each leg. */
  readonly chains: readonly Uint32Array[];
  /** Leg and direction by loop and by line. */
  readonly loops: readonly (readonly { leg: number; forward: boolean }[])[];
  readonly lines: readonly (readonly { leg: number; forward: boolean }[])[];
}

/** A name for an undirected edge, exact up to 2^26 nodes. */
export function edgeKey(a: number, b: number): number {
  return a < b ? a * 67108864 + b : b * 67108864 + a;
}

/** Closed loop of node indices, first not repeated. */
export function loopNodes(draft: Draft, loop: readonly { leg: number; forward: boolean }[]): Uint32Array {
  return walk(draft, loop).slice(0, -1);
}

/** Node chain along legs, shared ends once. */
export function walk(draft: Draft, legs: readonly { leg: number; forward: boolean }[]): Uint32Array {
  let length = 1;
  for (const { leg } of legs) length += draft.chains[leg].length - 1;
  const out = new Uint32Array(length);
  let at = 0;
  for (const { leg, forward } of legs) {
    const chain = draft.chains[leg];
    const last = chain.length - 1;
    for (let i = 0; i <= last; i++) out[at + i] = chain[forward ? i : last - i];
    at += last;
  }
  return out;
}

/** All edges that must stay, each once: 2 nodes by edge. */
export function heldEdges(chains: readonly Uint32Array[]): Uint32Array {
  let count = 0;
  for (const chain of chains) count += chain.length - 1;
  const out = new Uint32Array(2 * count);
  let at = 0;
  for (const chain of chains) {
    for (let i = 1; i < chain.length; i++) {
      out[at++] = chain[i - 1];
      out[at++] = chain[i];
    }
  }
  return out;
}

const guards = 8;

/** Node coordinates with a ring of far points round them, so that no edge of the region lies on the hull. */
function guarded(xy: Float64Array): Float64Array {
  const [left, bottom, right, top] = polygonBounds(xy);
  const radius = 2 * Math.hypot(right - left, top - bottom);
  const all = new Float64Array(xy.length + 2 * guards);
  all.set(xy);
  for (let g = 0; g < guards; g++) {
    const angle = (2 * Math.PI * (g + 0.37)) / guards;
    all[xy.length + 2 * g] = (left + right) / 2 + radius * Math.cos(angle);
    all[xy.length + 2 * g + 1] = (bottom + top) / 2 + radius * Math.sin(angle);
  }
  return all;
}

/**
 * Triangles inside the region. Throws what the constraining library throws if held edges cross or run through a
 * node; the caller turns that into a failure.
 */
export function triangulate(draft: Draft): TriangleNet {
  const coords = guarded(draft.xy);
  const { triangles, halfedges } = new Delaunator(coords);
  const ties = edgeTies(draft, coords.length / 2);
  markTies(ties, triangles);
  if (ties.marks.includes(0)) {
    const constrainer = new Constrainautor({ coords, triangles, halfedges });
    // Edges that are there must be named too, or a flip for another one could take them away.
    const edges = heldEdges(draft.chains);
    for (let k = 0; k < edges.length; k += 2) constrainer.constrainOne(edges[k], edges[k + 1]);
  }
  const net = insideNet(coords, draft.xy.length / 2, triangles, halfedges, ties);
  restoreDelaunay(net, draft.xy);
  return net;
}

/** Held edges in both directions, by the node they start from: list[start[p] .. start[p + 1]). */
interface EdgeTies {
  readonly start: Uint32Array;
  /** Node at the other end. */
  readonly list: Uint32Array;
  /** 1 where the edge belongs to a loop, 2 where the triangle on its left is not of the region, too. */
  readonly side: Uint8Array;
  /** 1 once the edge is known to be one of the triangulation. */
  readonly marks: Uint8Array;
}

function edgeTies(draft: Draft, nodes: number): EdgeTies {
  const edges = heldEdges(draft.chains);
  const start = new Uint32Array(nodes + 1);
  for (let k = 0; k < edges.length; k++) start[edges[k] + 1]++;
  for (let p = 0; p < nodes; p++) start[p + 1] += start[p];
  const next = start.slice(0, nodes);
  const list = new Uint32Array(edges.length);
  for (let k = 0; k < edges.length; k += 2) {
    list[next[edges[k]]++] = edges[k + 1];
    list[next[edges[k + 1]]++] = edges[k];
  }
  const ties = {
    start,
    list,
    side: new Uint8Array(edges.length),
    marks: new Uint8Array(edges.length),
  };
  for (let k = 0; k < draft.loops.length; k++) {
    const chain = walk(draft, draft.loops[k]);
    for (let i = 0; i + 1 < chain.length; i++) {
      // Loops run anticlockwise: left of the outline and right of a hole's edge is the region.
      ties.side[tieOf(ties, chain[i], chain[i + 1])] = k > 0 ? 3 : 1;
      ties.side[tieOf(ties, chain[i + 1], chain[i])] = k > 0 ? 1 : 3;
    }
  }
  return ties;
}

/** Place of the held edge a-b in the list; -1 if there is none. */
function tieOf(ties: EdgeTies, a: number, b: number): number {
  for (let k = ties.start[a]; k < ties.start[a + 1]; k++) if (ties.list[k] === b) return k;
  return -1;
}

/** Notes which held edges are edges of the triangles, in both directions: far points round the nodes see to that. */
function markTies(ties: EdgeTies, triangles: Uint32Array): void {
  for (let e = 0; e < triangles.length; e++) {
    const tie = tieOf(ties, triangles[e], triangles[after(e)]);
    if (tie >= 0) ties.marks[tie] = 1;
  }
}

/** The triangles of the region, anticlockwise, from Delaunator's, which run clockwise in these axes or anticlockwise. */
function insideNet(
  coords: Float64Array,
  nodes: number,
  t: Uint32Array,
  opposite: Int32Array,
  ties: EdgeTies,
): TriangleNet {
  const [a, b, c] = [2 * t[0], 2 * t[1], 2 * t[2]];
  const left =
    (coords[b] - coords[a]) * (coords[c + 1] - coords[a + 1]) -
      (coords[c] - coords[a]) * (coords[b + 1] - coords[a + 1]) >
    0;
  const tie = new Int32Array(t.length);
  for (let e = 0; e < t.length; e++)
    tie[e] = left ? tieOf(ties, t[e], t[after(e)]) : tieOf(ties, t[after(e)], t[e]);
  const out = outsideOf(nodes, t, opposite, ties, tie);
  const first = new Int32Array(out.length);
  let length = 0;
  for (let f = 0; f < out.length; f++) {
    first[f] = out[f] === 1 ? -1 : length;
    if (out[f] === 0) length += 3;
  }
  // Where the triangles run clockwise, their half-edges are taken in the other order and the other way.
  const place = (e: number): number => {
    const f = (e - (e % 3)) / 3;
    return first[f] < 0 ? -1 : first[f] + (left ? e % 3 : 2 - (e % 3));
  };
  const net = {
    triangles: new Uint32Array(length),
    twins: new Int32Array(length).fill(-1),
    fixed: new Uint8Array(length),
  };
  for (let e = 0; e < t.length; e++) {
    const to = place(e);
    if (to < 0) continue;
    net.triangles[to] = left ? t[e] : t[after(e)];
    net.twins[to] = opposite[e] < 0 ? -1 : place(opposite[e]);
    net.fixed[to] = tie[e] < 0 ? 0 : 1;
  }
  return net;
}

/** 1 for every triangle outside the region: those at far points or beyond a loop, and what they spread to up to the loops. */
function outsideOf(
  nodes: number,
  t: Uint32Array,
  opposite: Int32Array,
  ties: EdgeTies,
  tie: Int32Array,
): Uint8Array {
  const out = new Uint8Array(t.length / 3);
  const stack = new Uint32Array(out.length);
  let depth = 0;
  for (let e = 0; e < t.length; e++) {
    const f = (e - (e % 3)) / 3;
    if (out[f] === 1 || (t[e] < nodes && (tie[e] < 0 || ties.side[tie[e]] !== 3))) continue;
    out[f] = 1;
    stack[depth++] = f;
  }
  while (depth > 0) {
    const e = 3 * stack[--depth];
    for (let k = e; k < e + 3; k++) {
      const o = opposite[k];
      if (o < 0 || (tie[k] >= 0 && ties.side[tie[k]] > 0)) continue;
      const f = (o - (o % 3)) / 3;
      if (out[f] === 1) continue;
      out[f] = 1;
      stack[depth++] = f;
    }
  }
  return out;
}
