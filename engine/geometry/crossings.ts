/** Where edges cross: inside one polygon, between two, and along a straight segment. */
import { type Point, type Polygon, pointInPolygon } from "./polygon.ts";

/** Two edges that cross: index of each edge's first point, fraction along each, and the place. */
export interface Crossing {
  readonly edgeA: number;
  readonly edgeB: number;
  readonly fractionA: number;
  readonly fractionB: number;
  readonly point: Point;
}

/** Where segment a-b meets segment c-d, as [fraction along a-b, fraction along c-d]; null if they miss or are parallel. */
function segmentMeeting(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): readonly [number, number] | null {
  const ux = bx - ax;
  const uy = by - ay;
  const vx = dx - cx;
  const vy = dy - cy;
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) <= 1e-14 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const s = ((cx - ax) * vy - (cy - ay) * vx) / cross;
  const t = ((cx - ax) * uy - (cy - ay) * ux) / cross;
  return s >= 0 && s <= 1 && t >= 0 && t <= 1 ? [s, t] : null;
}

/** Whether the bounding boxes of the segments a-b and c-d meet. */
function boxesMeet(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  return !(
    (cx < ax && cx < bx && dx < ax && dx < bx) ||
    (cx > ax && cx > bx && dx > ax && dx > bx) ||
    (cy < ay && cy < by && dy < ay && dy < by) ||
    (cy > ay && cy > by && dy > ay && dy > by)
  );
}

/** Adds the crossings of edge i of a with the edges of b. */
function edgeCrossings(a: Polygon, i: number, b: Polygon, found: Crossing[]): void {
  const i2 = 2 * i + 2 < a.length ? 2 * i + 2 : 0;
  const ax = a[2 * i];
  const ay = a[2 * i + 1];
  const bx = a[i2];
  const by = a[i2 + 1];
  for (let j = 0; j < b.length; j += 2) {
    const j2 = j + 2 < b.length ? j + 2 : 0;
    if (!boxesMeet(ax, ay, bx, by, b[j], b[j + 1], b[j2], b[j2 + 1])) continue;
    const meeting = segmentMeeting(ax, ay, bx, by, b[j], b[j + 1], b[j2], b[j2 + 1]);
    if (meeting === null || meeting[0] >= 1 || meeting[1] >= 1) continue;
    found.push({
      edgeA: i,
      edgeB: j / 2,
      fractionA: meeting[0],
      fractionB: meeting[1],
      point: [ax + meeting[0] * (bx - ax), ay + meeting[0] * (by - ay)],
    });
  }
}

/** Every crossing of polygon a's edges with polygon b's; half-open edges, so a shared corner counts once. */
export function polygonCrossings(a: Polygon, b: Polygon): Crossing[] {
  const found: Crossing[] = [];
  for (let i = 0; i < a.length / 2; i++) edgeCrossings(a, i, b, found);
  return found;
}

/**
 * Places where a closed polygon crosses or touches itself; empty if it is simple. Neighbouring edges meet at their
 * common corner and are not reported. Edges are swept by x, so a fair outline of n points costs about n log n.
 */
export function selfCrossings(p: Polygon): Point[] {
  const n = p.length / 2;
  const left = (i: number): number => Math.min(p[2 * i], p[2 * ((i + 1) % n)]);
  const right = (i: number): number => Math.max(p[2 * i], p[2 * ((i + 1) % n)]);
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => left(i) - left(j) || i - j);
  const found: Point[] = [];
  let active: number[] = [];
  for (const i of order) {
    const x = left(i);
    active = active.filter((j) => right(j) >= x);
    const i2 = (i + 1) % n;
    for (const j of active) {
      const j2 = (j + 1) % n;
      if (j === i2 || j2 === i) continue;
      const meeting = segmentMeeting(
        p[2 * i],
        p[2 * i + 1],
        p[2 * i2],
        p[2 * i2 + 1],
        p[2 * j],
        p[2 * j + 1],
        p[2 * j2],
        p[2 * j2 + 1],
      );
      if (meeting === null) continue;
      const s = meeting[0];
      found.push([p[2 * i] + s * (p[2 * i2] - p[2 * i]), p[2 * i + 1] + s * (p[2 * i2 + 1] - p[2 * i + 1])]);
    }
    active.push(i);
  }
  return found;
}

/** Adds the fractions along from-to at which it meets the ring. */
function cutsBy(ring: Polygon, from: Point, to: Point, cuts: number[]): void {
  const ax = from[0];
  const ay = from[1];
  const bx = to[0];
  const by = to[1];
  for (let i = 0; i < ring.length; i += 2) {
    const j = i + 2 < ring.length ? i + 2 : 0;
    if (!boxesMeet(ax, ay, bx, by, ring[i], ring[i + 1], ring[j], ring[j + 1])) continue;
    const meeting = segmentMeeting(ax, ay, bx, by, ring[i], ring[i + 1], ring[j], ring[j + 1]);
    if (meeting !== null) cuts.push(meeting[0]);
  }
}

/**
 * The pieces of the straight segment from-to that lie inside `outline` and outside all `holes`, as pairs of distances
 * from `from` in m, ascending. Empty if the segment lies wholly outside.
 */
export function clipSegment(
  outline: Polygon,
  holes: readonly Polygon[],
  from: Point,
  to: Point,
): readonly (readonly [start: number, end: number])[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length === 0) return [];
  const cuts = [0, 1];
  cutsBy(outline, from, to, cuts);
  for (const hole of holes) cutsBy(hole, from, to, cuts);
  cuts.sort((a, b) => a - b);
  const pieces: [number, number][] = [];
  for (let k = 0; k + 1 < cuts.length; k++) {
    if (cuts[k + 1] - cuts[k] <= 1e-12) continue;
    const middle = (cuts[k] + cuts[k + 1]) / 2;
    const x = from[0] + middle * (to[0] - from[0]);
    const y = from[1] + middle * (to[1] - from[1]);
    if (!pointInPolygon(outline, x, y) || holes.some((hole) => pointInPolygon(hole, x, y))) continue;
    const last = pieces.at(-1);
    if (last !== undefined && cuts[k] * length - last[1] <= 1e-12 * length) last[1] = cuts[k + 1] * length;
    else pieces.push([cuts[k] * length, cuts[k + 1] * length]);
  }
  return pieces;
}
