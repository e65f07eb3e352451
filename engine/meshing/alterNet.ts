/** Nodes put into a net of triangles and taken out of it; Delaunay is restored afterwards by whoever asked. */
import { after, before, leftOf, link, type TriangleNet, turnDiagonal } from "./triangleNet.ts";

/**
 * Puts node m on the edge e; `at` = first free half-edge. Returns the next free one: 3 on at the rim, else 6.
 *
 *         c               the triangle of e = a-b keeps a-m-c; m-b-c is new
 *       / | \
 *      a--m--b
 */
export function splitEdge(net: TriangleNet, e: number, m: number, at: number): number {
  const o = net.twins[e];
  const held = net.fixed[e];
  splitSide(net, e, m, at);
  if (o < 0) {
    link(net, e, -1, held);
    link(net, at, -1, held);
    return at + 3;
  }
  splitSide(net, o, m, at + 3);
  link(net, e, at + 3, held);
  link(net, at, o, held);
  return at + 6;
}

function splitSide(net: TriangleNet, e: number, m: number, at: number): void {
  const t = net.triangles;
  const bc = after(e);
  t[at] = m;
  t[at + 1] = t[bc];
  t[at + 2] = t[before(e)];
  link(net, at + 1, net.twins[bc], net.fixed[bc]);
  t[bc] = m;
  link(net, bc, at + 2, 0);
}

/** Puts node p into triangle f, whose half-edge 3 f stays; `at` = first free half-edge, six of which are taken. */
export function splitTriangle(net: TriangleNet, f: number, p: number, at: number): void {
  const t = net.triangles;
  const e = 3 * f;
  t[at] = t[e + 1];
  t[at + 1] = t[e + 2];
  t[at + 2] = p;
  t[at + 3] = t[e + 2];
  t[at + 4] = t[e];
  t[at + 5] = p;
  t[e + 2] = p;
  link(net, at, net.twins[e + 1], net.fixed[e + 1]);
  link(net, at + 3, net.twins[e + 2], net.fixed[e + 2]);
  link(net, e + 1, at + 2, 0);
  link(net, e + 2, at + 4, 0);
  link(net, at + 1, at + 5, 0);
}

/** The triangle that holds (x, y), sought from triangle f on without passing a fixed edge; -1 if the way is barred. */
export function walkTo(net: TriangleNet, xy: Float64Array, f: number, x: number, y: number): number {
  let at = f;
  for (let steps = net.triangles.length; steps > 0; steps--) {
    const e = exitTowards(net, xy, at, x, y);
    if (e < 0) return at;
    if (net.fixed[e] === 1 || net.twins[e] < 0) return -1;
    at = (net.twins[e] - (net.twins[e] % 3)) / 3;
  }
  return -1;
}

/** A half-edge of triangle f that has (x, y) on its other side; -1 if none has. */
function exitTowards(net: TriangleNet, xy: Float64Array, f: number, x: number, y: number): number {
  const t = net.triangles;
  const e = 3 * f;
  if (leftOf(xy, t[e], t[e + 1], x, y) < 0) return e;
  if (leftOf(xy, t[e + 1], t[e + 2], x, y) < 0) return e + 1;
  return leftOf(xy, t[e + 2], t[e], x, y) < 0 ? e + 2 : -1;
}

/**
 * Takes node p, which must lie inside and on no fixed edge, out of the first `end` half-edges of the net: its spokes are
 * turned away until three are left. Returns the new end, or `end` itself where the star is too flat for it.
 */
export function dissolveNode(net: TriangleNet, xy: Float64Array, p: number, end: number): number {
  const { triangles: t, twins, fixed } = net;
  for (;;) {
    const start = t.subarray(0, end).indexOf(p);
    if (start < 0) return end;
    let spokes = 0;
    let turnable = -1;
    let e = start;
    do {
      spokes++;
      if (turnable < 0 && isConvex(net, xy, e)) turnable = e;
      e = twins[before(e)];
    } while (e !== start);
    if (spokes > 3) {
      if (turnable < 0) return end;
      turnDiagonal(net, turnable);
      continue;
    }
    // p-a-b keeps its triangle and becomes c-a-b
    const pb = twins[before(start)];
    const ap = twins[start];
    const bc = after(pb);
    const ca = before(ap);
    t[start] = t[after(bc)];
    link(net, start, twins[ca], fixed[ca]);
    link(net, before(start), twins[bc], fixed[bc]);
    const lost = [(pb - (pb % 3)) / 3, (ap - (ap % 3)) / 3].sort((f, g) => g - f);
    let last = end;
    for (const f of lost) {
      last -= 3;
      if (3 * f !== last) moveTriangle(net, last, 3 * f);
    }
    return last;
  }
}

/** Whether the two triangles beside the edge e make a convex quadrangle. */
function isConvex(net: TriangleNet, xy: Float64Array, e: number): boolean {
  const t = net.triangles;
  const o = net.twins[e];
  const c = t[before(e)];
  const d = t[before(o)];
  return (
    leftOf(xy, d, t[o], xy[2 * c], xy[2 * c + 1]) > 0 && leftOf(xy, c, t[e], xy[2 * d], xy[2 * d + 1]) > 0
  );
}

function moveTriangle(net: TriangleNet, from: number, to: number): void {
  for (let k = 0; k < 3; k++) {
    net.triangles[to + k] = net.triangles[from + k];
    link(net, to + k, net.twins[from + k], net.fixed[from + k]);
  }
}
