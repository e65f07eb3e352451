/**
 * A triangulation that can be altered in place.
 *
 *          c            half-edge e = 3 f + k of triangle f runs from its corner k to the next; its twin runs back along the
 *        /   \          same edge in the neighbour. Triangles run anticlockwise.
 *      a --e-- b
 *        \ o /          turning the diagonal: a-b gives way to d-c, and the four outer edges lie in e, next of e, o, next of o
 *          d
 */
export interface TriangleNet {
  /** 3 nodes by triangle, anticlockwise. */
  readonly triangles: Uint32Array;
  /** By half-edge: its twin, -1 on the rim. */
  readonly twins: Int32Array;
  /** By half-edge: 1 where the edge must stay. */
  readonly fixed: Uint8Array;
}

/** The next half-edge of the triangle. */
export function after(e: number): number {
  return e % 3 === 2 ? e - 2 : e + 1;
}

/** The half-edge before e in its triangle. */
export function before(e: number): number {
  return e % 3 === 0 ? e + 2 : e - 1;
}

/** Makes e and o (which may be -1) each other's twins; what must stay is said by `fixed`. */
export function link(net: TriangleNet, e: number, o: number, fixed: number): void {
  net.twins[e] = o;
  net.fixed[e] = fixed;
  if (o < 0) return;
  net.twins[o] = e;
  net.fixed[o] = fixed;
}

/** Twice the area of the triangle p, q, (x, y): positive where (x, y) lies left of p-q. */
export function leftOf(xy: Float64Array, p: number, q: number, x: number, y: number): number {
  const px = xy[2 * p];
  const py = xy[2 * p + 1];
  return (xy[2 * q] - px) * (y - py) - (xy[2 * q + 1] - py) * (x - px);
}

/** Turns the diagonal e, which must have a twin and not be fixed. */
export function turnDiagonal(net: TriangleNet, e: number): void {
  const { triangles, twins, fixed } = net;
  const o = twins[e];
  const ca = before(e);
  const db = before(o);
  triangles[e] = triangles[db];
  triangles[o] = triangles[ca];
  link(net, e, twins[db], fixed[db]);
  link(net, o, twins[ca], fixed[ca]);
  link(net, ca, db, 0);
}

/** Whether the angles opposite the edge e add up to more than pi, ties and rounding left out. */
function wantsTurn(net: TriangleNet, xy: Float64Array, e: number, o: number): boolean {
  const t = net.triangles;
  const a = 2 * t[e];
  const b = 2 * t[o];
  const c = 2 * t[before(e)];
  const d = 2 * t[before(o)];
  const ax = xy[a];
  const ay = xy[a + 1];
  const bx = xy[b];
  const by = xy[b + 1];
  const cx = xy[c];
  const cy = xy[c + 1];
  const dx = xy[d];
  const dy = xy[d + 1];
  const cosC = (ax - cx) * (bx - cx) + (ay - cy) * (by - cy);
  const sinC = (ax - cx) * (by - cy) - (ay - cy) * (bx - cx);
  const cosD = (ax - dx) * (bx - dx) + (ay - dy) * (by - dy);
  const sinD = (bx - dx) * (ay - dy) - (by - dy) * (ax - dx);
  const rounding = 1e-12 * (Math.abs(cosC) + Math.abs(sinC)) * (Math.abs(cosD) + Math.abs(sinD));
  return sinC * cosD + cosC * sinD < -rounding;
}

/** Turns diagonals in place until the net is Delaunay but for its fixed edges (Lawson's flips). */
export function restoreDelaunay(net: TriangleNet, xy: Float64Array): void {
  while (turnAll(net, xy));
}

/** One sweep over all edges; false if none was turned. */
function turnAll(net: TriangleNet, xy: Float64Array): boolean {
  const { twins, fixed } = net;
  let turned = false;
  for (let e = 0; e < twins.length; e++) {
    const o = twins[e];
    if (o < e || fixed[e] === 1 || !wantsTurn(net, xy, e, o)) continue;
    turnDiagonal(net, e);
    turned = true;
  }
  return turned;
}

/** A copy with room for more triangles. */
export function roomierNet(net: TriangleNet, more: number): TriangleNet {
  const length = net.triangles.length + 3 * more;
  const triangles = new Uint32Array(length);
  const twins = new Int32Array(length).fill(-1);
  const fixed = new Uint8Array(length);
  triangles.set(net.triangles);
  twins.set(net.twins);
  fixed.set(net.fixed);
  return { triangles, twins, fixed };
}
