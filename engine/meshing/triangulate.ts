/** Constrained Delaunay triangulation of a region from its nodes, its boundary loops and the edges that must stay. */
import Constrainautor from "@kninnug/constrainautor";
import Delaunator from "delaunator";

/** What the steps after the arrangement hand on and alter. */
export interface Draft {
  /** x,y by node. */
  readonly xy: number[];
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
function guarded(xy: readonly number[]): Float64Array {
  let left = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < xy.length; i += 2) {
    left = Math.min(left, xy[i]);
    right = Math.max(right, xy[i]);
    bottom = Math.min(bottom, xy[i + 1]);
    top = Math.max(top, xy[i + 1]);
  }
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
  const present = new Set<number>();
  const after = (e: number) => (e % 3 === 2 ? e - 2 : e + 1);
  for (let e = 0; e < t.length; e++) present.add(edgeKey(t[e], t[after(e)]));
  const missing = edges.filter(([a, b]) => !present.has(edgeKey(a, b)));
  if (missing.length > 0) {
    const constrainer = new Constrainautor({ coords, triangles: t, halfedges: opposite });
    // Edges that are there must be named too, or a flip for another one could take them away.
    for (const [a, b] of edges) constrainer.constrainOne(a, b);
    constrainer.delaunify(true);
  }
  return { triangles: insideTriangles(draft, coords, t, opposite, nodes) };
}

function insideTriangles(
  draft: Draft,
  coords: Float64Array,
  t: Uint32Array,
  opposite: Int32Array,
  nodes: number,
): Uint32Array {
  const after = (e: number) => (e % 3 === 2 ? e - 2 : e + 1);
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
  const twice = (f: number): number => {
    const [a, b, c] = [t[3 * f], t[3 * f + 1], t[3 * f + 2]];
    return (
      (coords[2 * b] - coords[2 * a]) * (coords[2 * c + 1] - coords[2 * a + 1]) -
      (coords[2 * c] - coords[2 * a]) * (coords[2 * b + 1] - coords[2 * a + 1])
    );
  };
  const count = t.length / 3;
  let signed = 0;
  for (let f = 0; f < count; f++) signed += twice(f);
  const left = signed > 0;
  const out = new Uint8Array(count);
  const stack: number[] = [];
  const drop = (f: number) => {
    if (out[f] === 0) {
      out[f] = 1;
      stack.push(f);
    }
  };
  for (let f = 0; f < count; f++) {
    for (let e = 3 * f; e < 3 * f + 3; e++) {
      const [a, b] = left ? [t[e], t[after(e)]] : [t[after(e)], t[e]];
      if (a >= nodes || holeSide.has(a * 67108864 + b)) drop(f);
    }
  }
  while (stack.length > 0) {
    const f = stack.pop()!;
    for (let e = 3 * f; e < 3 * f + 3; e++) {
      const o = opposite[e];
      if (o >= 0 && !barrier.has(edgeKey(t[e], t[after(e)]))) drop(Math.floor(o / 3));
    }
  }
  const kept: number[] = [];
  for (let f = 0; f < count; f++) {
    if (out[f] === 1) continue;
    if (left) kept.push(t[3 * f], t[3 * f + 1], t[3 * f + 2]);
    else kept.push(t[3 * f], t[3 * f + 2], t[3 * f + 1]);
  }
  return Uint32Array.from(kept);
}
