/** Constrained Delaunay triangulation of a region from its nodes, its boundary loops and the edges that must stay. */
import Constrainautor from "@kninnug/constrainautor";
import Delaunator from "delaunator";
import { polygonBounds } from "#engine/geometry";

/** What the steps after the arrangement hand on and alter. */
export interface Draft {
  /** x,y by node. */
  readonly xy: ArrayLike<number>;
  /** Nodes below this number or marked here lie on a leg and stay where they are. */
  readonly held: boolean[];
  /** Node chain of each leg. */
  readonly chains: number[][];
  /** Leg and direction by loop and by line. */
  readonly loops: readonly (readonly { leg: number; forward: boolean }[])[];
  readonly lines: readonly (readonly { leg: number; forward: boolean }[])[];
}

export interface Triangulation {
  /** 3 nodes by triangle, anticlockwise, inside only. */
  readonly triangles: Uint32Array;
}

/** A name for an undirected edge, exact up to 2^26 nodes. */
export function edgeKey(a: number, b: number): number {
  return a < b ? a * 67108864 + b : b * 67108864 + a;
}

/** Closed loop of node indices, first not repeated. */
export function loopNodes(draft: Draft, loop: readonly { leg: number; forward: boolean }[]): number[] {
  return walk(draft, loop).slice(0, -1);
}

/** Node chain along legs, shared ends once. */
export function walk(draft: Draft, legs: readonly { leg: number; forward: boolean }[]): number[] {
  const out: number[] = [];
  for (const { leg, forward } of legs) {
    const chain = draft.chains[leg];
    const way = forward ? chain : [...chain].reverse();
    out.push(...(out.length === 0 ? way : way.slice(1)));
  }
  return out;
}

/** All edges that must stay, each once. */
export function heldEdges(draft: Draft): [number, number][] {
  return draft.chains.flatMap((chain) => chain.slice(1).map((b, i) => [chain[i], b] as [number, number]));
}

const guards = 8;

/** Node coordinates with a ring of far points round them, so that no edge of the region lies on the hull. */
function guarded(xy: ArrayLike<number>): Float64Array {
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
export function triangulate(draft: Draft): Triangulation {
  const coords = guarded(draft.xy);
  const nodes = draft.xy.length / 2;
  const d = new Delaunator(coords);
  const t = d.triangles;
  const opposite = d.halfedges;
  const edges = heldEdges(draft);
  const ends = endsOf(edges, coords.length / 2);
  const present = new Set<number>();
  for (let e = 0; e < t.length; e++) {
    const a = t[e];
    const b = t[after(e)];
    if (ends[a] === 1 && ends[b] === 1) present.add(edgeKey(a, b));
  }
  if (edges.some(([a, b]) => !present.has(edgeKey(a, b)))) {
    const constrainer = new Constrainautor({ coords, triangles: t, halfedges: opposite });
    // Edges that are there must be named too, or a flip for another one could take them away.
    for (const [a, b] of edges) constrainer.constrainOne(a, b);
    constrainer.delaunify(true);
  }
  return { triangles: insideTriangles(draft, coords, t, opposite, nodes, ends) };
}

/** The next half-edge of a triangle. */
function after(e: number): number {
  return e % 3 === 2 ? e - 2 : e + 1;
}

/** 1 for every node at the end of one of the edges. */
function endsOf(edges: readonly (readonly [number, number])[], nodes: number): Uint8Array {
  const ends = new Uint8Array(nodes);
  for (const [a, b] of edges) {
    ends[a] = 1;
    ends[b] = 1;
  }
  return ends;
}

function insideTriangles(
  draft: Draft,
  coords: Float64Array,
  t: Uint32Array,
  opposite: Int32Array,
  nodes: number,
  ends: Uint8Array,
): Uint32Array {
  const barrier = new Set<number>();
  const holeSide = new Set<number>();
  draft.loops.forEach((loop, k) => {
    const chain = walk(draft, loop);
    for (let i = 0; i + 1 < chain.length; i++) {
      barrier.add(edgeKey(chain[i], chain[i + 1]));
      // Loops run anticlockwise: a triangle with the edge in that direction is inside the loop.
      if (k > 0) holeSide.add(chain[i] * 67108864 + chain[i + 1]);
    }
  });
  const count = t.length / 3;
  let signed = 0;
  for (let e = 0; e < t.length; e += 3) {
    const a = 2 * t[e];
    const b = 2 * t[e + 1];
    const c = 2 * t[e + 2];
    signed +=
      (coords[b] - coords[a]) * (coords[c + 1] - coords[a + 1]) -
      (coords[c] - coords[a]) * (coords[b + 1] - coords[a + 1]);
  }
  const left = signed > 0;
  const out = new Uint8Array(count);
  const stack = new Uint32Array(count);
  let depth = 0;
  for (let e = 0; e < t.length; e++) {
    const f = (e - (e % 3)) / 3;
    if (out[f] === 1) continue;
    const p = t[e];
    const q = t[after(e)];
    const a = left ? p : q;
    const b = left ? q : p;
    if (a >= nodes || (ends[a] === 1 && ends[b] === 1 && holeSide.has(a * 67108864 + b))) {
      out[f] = 1;
      stack[depth++] = f;
    }
  }
  while (depth > 0) {
    const f = stack[--depth];
    for (let e = 3 * f; e < 3 * f + 3; e++) {
      const o = opposite[e];
      if (o < 0) continue;
      const f2 = (o - (o % 3)) / 3;
      if (out[f2] === 1) continue;
      const a = t[e];
      const b = t[after(e)];
      if (ends[a] === 1 && ends[b] === 1 && barrier.has(edgeKey(a, b))) continue;
      out[f2] = 1;
      stack[depth++] = f2;
    }
  }
  const kept = new Uint32Array(t.length);
  let size = 0;
  for (let e = 0; e < t.length; e += 3) {
    if (out[e / 3] === 1) continue;
    kept[size] = t[e];
    kept[size + 1] = t[left ? e + 1 : e + 2];
    kept[size + 2] = t[left ? e + 2 : e + 1];
    size += 3;
  }
  return kept.slice(0, size);
}
