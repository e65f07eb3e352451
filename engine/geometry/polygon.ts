/** Closed polygons and open chains in the plane, as flat arrays: x0,y0,x1,y1,… in m. */

/** A closed polygon, last point not repeated, anticlockwise unless said otherwise; m. */
export type Polygon = Float64Array;
/** An open chain of points; m. */
export type Polyline = Float64Array;
/** A point or a direction in the plane. */
export type Point = readonly [x: number, y: number];

/** A plate as it is cut: one outer edge and the holes in it, all anticlockwise. */
export interface PlateRegion {
  readonly outline: Polygon;
  readonly holes: readonly Polygon[];
}

/** Signed area, m2: positive if the polygon runs anticlockwise (shoelace rule, about the first point). */
export function polygonArea(p: Polygon): number {
  const x0 = p[0];
  const y0 = p[1];
  let twice = 0;
  for (let i = 2; i + 3 < p.length; i += 2) {
    twice += (p[i] - x0) * (p[i + 3] - y0) - (p[i + 2] - x0) * (p[i + 1] - y0);
  }
  return twice / 2;
}

/** Centroid of the enclosed area, m. */
export function polygonCentroid(p: Polygon): Point {
  const x0 = p[0];
  const y0 = p[1];
  let twice = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 2; i + 3 < p.length; i += 2) {
    const ax = p[i] - x0;
    const ay = p[i + 1] - y0;
    const bx = p[i + 2] - x0;
    const by = p[i + 3] - y0;
    const cross = ax * by - bx * ay;
    twice += cross;
    sx += cross * (ax + bx);
    sy += cross * (ay + by);
  }
  return [x0 + sx / (3 * twice), y0 + sy / (3 * twice)];
}

/** Length once round the polygon, m. */
export function polygonPerimeter(p: Polygon): number {
  const n = p.length;
  return n < 4 ? 0 : polylineLength(p) + Math.hypot(p[0] - p[n - 2], p[1] - p[n - 1]);
}

/** Length of an open chain, m. */
export function polylineLength(p: Polyline): number {
  let length = 0;
  for (let i = 0; i + 3 < p.length; i += 2) length += Math.hypot(p[i + 2] - p[i], p[i + 3] - p[i + 1]);
  return length;
}

/** Is (x, y) inside? Even-odd rule; a point exactly on the edge may fall on either side. */
export function pointInPolygon(p: Polygon, x: number, y: number): boolean {
  let inside = false;
  let xj = p[p.length - 2];
  let yj = p[p.length - 1];
  for (let i = 0; i < p.length; i += 2) {
    const xi = p[i];
    const yi = p[i + 1];
    if (yi > y !== yj > y && x < xi + ((y - yi) * (xj - xi)) / (yj - yi)) inside = !inside;
    xj = xi;
    yj = yi;
  }
  return inside;
}

/** Is (x, y) in the wood: inside the outline and in none of the holes? */
export function pointInRegion(region: PlateRegion, x: number, y: number): boolean {
  return pointInPolygon(region.outline, x, y) && !region.holes.some((hole) => pointInPolygon(hole, x, y));
}

/** Nearest place on a chain: its distance, index of the edge's first point, fraction along that edge, and the place. */
export interface Nearest {
  readonly distance: number;
  readonly edge: number;
  readonly fraction: number;
  readonly point: Point;
}

/** The place on an open chain (or on a closed polygon) that is nearest to (x, y). */
export function nearestOnPolyline(p: Polyline, x: number, y: number, closed = false): Nearest {
  const n = p.length / 2;
  let least = Number.POSITIVE_INFINITY; // squared distance
  let edge = 0;
  const last = closed ? n : Math.max(1, n - 1);
  for (let i = 0; i < last; i++) {
    const j = i + 1 < n ? i + 1 : 0;
    const away = awayFrom(p, i, j, x, y, fractionOn(p, i, j, x, y));
    if (away >= least) continue;
    least = away;
    edge = i;
  }
  const next = edge + 1 < n ? edge + 1 : 0;
  const fraction = fractionOn(p, edge, next, x, y);
  const px = p[2 * edge] + fraction * (p[2 * next] - p[2 * edge]);
  const py = p[2 * edge + 1] + fraction * (p[2 * next + 1] - p[2 * edge + 1]);
  return { distance: Math.hypot(x - px, y - py), edge, fraction, point: [px, py] };
}

/** Fraction of the edge between points i and j at which it is nearest to (x, y). */
function fractionOn(p: Polyline, i: number, j: number, x: number, y: number): number {
  const ex = p[2 * j] - p[2 * i];
  const ey = p[2 * j + 1] - p[2 * i + 1];
  const squared = ex * ex + ey * ey;
  const along = squared === 0 ? 0 : ((x - p[2 * i]) * ex + (y - p[2 * i + 1]) * ey) / squared;
  return Math.min(1, Math.max(0, along));
}

/** Square of the distance from (x, y) to the place at fraction f of the edge between points i and j. */
function awayFrom(p: Polyline, i: number, j: number, x: number, y: number, f: number): number {
  const qx = p[2 * i] + f * (p[2 * j] - p[2 * i]) - x;
  const qy = p[2 * i + 1] + f * (p[2 * j + 1] - p[2 * i + 1]) - y;
  return qx * qx + qy * qy;
}

/** Distance from (x, y) to an open chain (or to the edge of a closed polygon), m. */
export function distanceToPolyline(p: Polyline, x: number, y: number, closed = false): number {
  return nearestOnPolyline(p, x, y, closed).distance;
}

/** The same polygon run the other way round, keeping its first point. */
export function reversedPolygon(p: Polygon): Polygon {
  const n = p.length / 2;
  const out = new Float64Array(p.length);
  for (let i = 0; i < n; i++) {
    const from = (n - i) % n;
    out[2 * i] = p[2 * from];
    out[2 * i + 1] = p[2 * from + 1];
  }
  return out;
}

/** The same polygon, run anticlockwise. */
export function anticlockwise(p: Polygon): Polygon {
  return polygonArea(p) < 0 ? reversedPolygon(p) : p;
}

/** Least and greatest coordinates of points x, y: [xMin, yMin, xMax, yMax], m. */
export function polygonBounds(p: ArrayLike<number>): readonly [number, number, number, number] {
  let xMin = Number.POSITIVE_INFINITY;
  let yMin = Number.POSITIVE_INFINITY;
  let xMax = Number.NEGATIVE_INFINITY;
  let yMax = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < p.length; i += 2) {
    xMin = Math.min(xMin, p[i]);
    xMax = Math.max(xMax, p[i]);
    yMin = Math.min(yMin, p[i + 1]);
    yMax = Math.max(yMax, p[i + 1]);
  }
  return [xMin, yMin, xMax, yMax];
}
