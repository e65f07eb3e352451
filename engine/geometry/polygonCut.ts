/**
 * What is left of one simple polygon when another is taken off it, and what they share.
 *
 * Both edges are cut where they cross; an arc between two crossings lies wholly inside or wholly outside the other
 * polygon. The difference a - b is bounded by a's arcs outside b and, run backwards, b's arcs inside a; the
 * intersection by a's arcs inside b and b's arcs inside a. At every crossing one kept arc ends and one begins, so the
 * arcs join into rings.
 */
import { type Crossing, polygonCrossings } from "./crossings.ts";
import {
  nearestOnPolyline,
  type Point,
  type Polygon,
  type Polyline,
  pointInPolygon,
  polygonArea,
  reversedPolygon,
} from "./polygon.ts";

/** Result of cutting b out of a: pieces that remain (anticlockwise), and the stretches of a's edge that lay in b. */
export interface PolygonCut {
  readonly pieces: readonly Polygon[];
  /** b lies wholly inside a: the one piece is a itself and this is the hole in it. */
  readonly hole: Polygon | null;
  readonly lostEdge: readonly Polyline[];
  /** The part of b inside a. */
  readonly shared: readonly Polygon[];
}

interface Arc {
  readonly from: number;
  readonly to: number;
  readonly points: readonly number[];
  readonly insideOther: boolean;
}

/**
 * Cuts polygon p at its crossings (given as edge and fraction) into arcs, each told whether it lies inside `other`.
 * Points of p nearer than `least` to an arc's end are left out, so that no short edge stands beside a crossing.
 */
function arcsOf(
  p: Polygon,
  places: readonly { edge: number; fraction: number; point: Point }[],
  other: Polygon,
  least: number,
): Arc[] {
  const n = p.length / 2;
  const order = places
    .map((_, i) => i)
    .sort((i, j) => places[i].edge - places[j].edge || places[i].fraction - places[j].fraction);
  return order.map((from, k) => {
    const to = order[(k + 1) % order.length];
    const a = places[from];
    const b = places[to];
    const points: number[] = [a.point[0], a.point[1]];
    const wraps = k === order.length - 1;
    const steps = wraps ? b.edge + n - a.edge : b.edge - a.edge;
    for (let i = 1; i <= steps; i++) {
      const at = (a.edge + i) % n;
      const far = (end: Point): boolean => Math.hypot(p[2 * at] - end[0], p[2 * at + 1] - end[1]) >= least;
      if (far(a.point) && far(b.point)) points.push(p[2 * at], p[2 * at + 1]);
    }
    points.push(b.point[0], b.point[1]);
    return { from, to, points, insideOther: arcInside(points, other) };
  });
}

/** Is an arc that does not cross `other` inside it? Asked at the middle of its longest edge, farthest from doubt. */
function arcInside(points: readonly number[], other: Polygon): boolean {
  let longest = -1;
  let at = 0;
  for (let i = 0; i + 3 < points.length; i += 2) {
    const length = Math.hypot(points[i + 2] - points[i], points[i + 3] - points[i + 1]);
    if (length > longest) {
      longest = length;
      at = i;
    }
  }
  return pointInPolygon(other, (points[at] + points[at + 2]) / 2, (points[at + 1] + points[at + 3]) / 2);
}

/** Joins arcs end to start into closed rings. */
function joinArcs(arcs: readonly Arc[]): Polygon[] {
  const starting = new Map<number, number[]>();
  arcs.forEach((arc, i) => {
    starting.set(arc.from, [...(starting.get(arc.from) ?? []), i]);
  });
  const used = new Uint8Array(arcs.length);
  const rings: Polygon[] = [];
  for (let first = 0; first < arcs.length; first++) {
    if (used[first]) continue;
    const points: number[] = [];
    let at: number | undefined = first;
    while (at !== undefined && !used[at]) {
      used[at] = 1;
      points.push(...arcs[at].points.slice(0, -2));
      at = starting.get(arcs[at].to)?.find((i) => !used[i]);
    }
    rings.push(Float64Array.from(points));
  }
  return rings;
}

/** An arc run the other way. */
function reversedArc(arc: Arc): Arc {
  const points: number[] = [];
  for (let i = arc.points.length - 2; i >= 0; i -= 2) points.push(arc.points[i], arc.points[i + 1]);
  return { from: arc.to, to: arc.from, points, insideOther: arc.insideOther };
}

/** A ring without points closer than `least` to the one before them. */
function withoutShortEdges(ring: Polygon, least: number): Polygon {
  const points: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const n = points.length;
    if (n >= 2 && Math.hypot(ring[i] - points[n - 2], ring[i + 1] - points[n - 1]) < least) continue;
    points.push(ring[i], ring[i + 1]);
  }
  while (points.length > 6) {
    const n = points.length;
    if (Math.hypot(points[0] - points[n - 2], points[1] - points[n - 1]) >= least) break;
    points.length = n - 2;
  }
  return Float64Array.from(points);
}

/**
 * Moves b where it comes within `snap` of a's edge without a clear crossing, so that a touch counts as a crossing:
 * its points near a's edge go outside a by `snap`, and b gains a point there if a's corner touches the middle of an
 * edge of b. `a` is kept as it is.
 */
function snappedAcross(a: Polygon, b: Polygon, snap: number): Polygon {
  const moved: number[] = [];
  for (let j = 0; j < b.length; j += 2) {
    const at = pushedOut(a, [b[j], b[j + 1]], snap);
    moved.push(at[0], at[1]);
    const j2 = j + 2 < b.length ? j + 2 : 0;
    addTouches(a, Float64Array.of(b[j], b[j + 1], b[j2], b[j2 + 1]), snap, moved);
  }
  return Float64Array.from(moved);
}

/** Adds the points that b gains on one of its edges, in order along it. */
function addTouches(a: Polygon, edge: Float64Array, snap: number, moved: number[]): void {
  const added: { fraction: number; point: Point }[] = [];
  const xMin = Math.min(edge[0], edge[2]) - snap;
  const xMax = Math.max(edge[0], edge[2]) + snap;
  const yMin = Math.min(edge[1], edge[3]) - snap;
  const yMax = Math.max(edge[1], edge[3]) + snap;
  for (let i = 0; i < a.length; i += 2) {
    const x = a[i];
    const y = a[i + 1];
    if (x < xMin || x > xMax || y < yMin || y > yMax) continue;
    const near = nearestOnPolyline(edge, x, y);
    if (near.distance >= snap || near.fraction <= 0 || near.fraction >= 1) continue;
    added.push({ fraction: near.fraction, point: pushedOut(a, near.point, snap) });
  }
  added.sort((p, q) => p.fraction - q.fraction);
  for (const { point } of added) moved.push(point[0], point[1]);
}

/** Quick test, which only errs on the side of yes: does any edge's bounding box, grown by `reach`, hold (x, y)? */
function comesNear(a: Polygon, x: number, y: number, reach: number): boolean {
  let x0 = a[a.length - 2];
  let y0 = a[a.length - 1];
  for (let i = 0; i < a.length; i += 2) {
    const x1 = a[i];
    const y1 = a[i + 1];
    if (
      Math.min(x0, x1) - reach <= x &&
      Math.max(x0, x1) + reach >= x &&
      Math.min(y0, y1) - reach <= y &&
      Math.max(y0, y1) + reach >= y
    ) {
      return true;
    }
    x0 = x1;
    y0 = y1;
  }
  return false;
}

/** A point nearer than `snap` to a's edge, moved square off that edge to `snap` outside a; others stay. */
function pushedOut(a: Polygon, point: Point, snap: number): Point {
  if (!comesNear(a, point[0], point[1], snap)) return point;
  const near = nearestOnPolyline(a, point[0], point[1], true);
  if (near.distance >= snap) return point;
  const n = a.length / 2;
  const next = (near.edge + 1) % n;
  const ex = a[2 * next] - a[2 * near.edge];
  const ey = a[2 * next + 1] - a[2 * near.edge + 1];
  const length = Math.hypot(ex, ey);
  return [near.point[0] + (snap * ey) / length, near.point[1] - (snap * ex) / length];
}

/**
 * Takes b off a; both simple, any sense. Land or overlap narrower than `snap` (m) counts as a crossing, and no edge
 * shorter than `leastEdge` is left at the cuts; the areas are exact to perimeter x snap and about leastEdge^2 a cut. All rings come anticlockwise.
 * Source: the rule of arcs at the top of this file.
 */
export function polygonDifference(
  aGiven: Polygon,
  bGiven: Polygon,
  snap: number,
  leastEdge = snap,
): PolygonCut {
  const a = polygonArea(aGiven) < 0 ? reversedPolygon(aGiven) : aGiven;
  const ccw = polygonArea(bGiven) < 0 ? reversedPolygon(bGiven) : bGiven;
  const b = snappedAcross(a, ccw, snap);
  const crossings: Crossing[] = polygonCrossings(a, b);
  if (crossings.length === 0) {
    if (pointInPolygon(a, b[0], b[1])) return { pieces: [a], hole: ccw, lostEdge: [], shared: [ccw] };
    if (pointInPolygon(b, a[0], a[1])) return { pieces: [], hole: null, lostEdge: [a], shared: [a] };
    return { pieces: [a], hole: null, lostEdge: [], shared: [] };
  }
  const aArcs = arcsOf(
    a,
    crossings.map((c) => ({ edge: c.edgeA, fraction: c.fractionA, point: c.point })),
    b,
    leastEdge,
  );
  const bArcs = arcsOf(
    b,
    crossings.map((c) => ({ edge: c.edgeB, fraction: c.fractionB, point: c.point })),
    a,
    leastEdge,
  );
  const bInside = bArcs.filter((arc) => arc.insideOther);
  const rings = (arcs: readonly Arc[]): Polygon[] =>
    joinArcs(arcs)
      .map((ring) => withoutShortEdges(ring, snap))
      .filter((ring) => ring.length >= 6 && polygonArea(ring) > snap * snap);
  const lost = aArcs.filter((arc) => arc.insideOther);
  return {
    pieces: rings([...aArcs.filter((arc) => !arc.insideOther), ...bInside.map(reversedArc)]),
    hole: null,
    lostEdge: lost.map((arc) => Float64Array.from(arc.points)),
    shared: rings([...lost, ...bInside]),
  };
}

/** The pieces that a and b share, anticlockwise. */
export function polygonIntersection(a: Polygon, b: Polygon, snap: number): readonly Polygon[] {
  return polygonDifference(a, b, snap).shared;
}
