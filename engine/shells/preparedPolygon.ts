import { anticlockwise, type Polygon } from "#engine/geometry";
import { polygonMoments, triangleOverlap } from "./triangleOverlap.ts";

/** A polygon with what tells quickly that a triangle misses it or lies within. */
export interface PreparedPolygon {
  readonly polygon: Polygon;
  /** Bounds: least x, y, greatest x, y. */
  readonly box: readonly [number, number, number, number];
  /** The edges that have the whole polygon on one side, (a, b, c) each: a x + b y > c lies outside. */
  readonly planes: Float64Array;
  readonly convex: boolean;
}

export function preparedPolygon(polygon: Polygon): PreparedPolygon {
  const p = anticlockwise(polygon);
  const n = p.length / 2;
  let [x0, y0, x1, y1] = [p[0], p[1], p[0], p[1]];
  for (let i = 2; i < p.length; i += 2) {
    x0 = Math.min(x0, p[i]);
    x1 = Math.max(x1, p[i]);
    y0 = Math.min(y0, p[i + 1]);
    y1 = Math.max(y1, p[i + 1]);
  }
  const planes: number[] = [];
  const rounding = 1e-12 * Math.hypot(x1 - x0, y1 - y0);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const dx = p[2 * j] - p[2 * i];
    const dy = p[2 * j + 1] - p[2 * i + 1];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const [a, b] = [dy / length, -dx / length];
    const c = a * p[2 * i] + b * p[2 * i + 1];
    let hull = true;
    for (let k = 0; hull && k < n; k++) hull = a * p[2 * k] + b * p[2 * k + 1] <= c + rounding;
    if (hull) planes.push(a, b, c);
  }
  return {
    polygon,
    box: [x0, y0, x1, y1],
    planes: Float64Array.from(planes),
    convex: planes.length === 3 * n,
  };
}

/** True only if the triangle (x0 y0 x1 y1 x2 y2) certainly lies outside. */
export function misses(prepared: PreparedPolygon, t: Float64Array): boolean {
  const { box, planes } = prepared;
  const x0 = t[0];
  const y0 = t[1];
  const x1 = t[2];
  const y1 = t[3];
  const x2 = t[4];
  const y2 = t[5];
  if (
    (x0 < box[0] && x1 < box[0] && x2 < box[0]) ||
    (x0 > box[2] && x1 > box[2] && x2 > box[2]) ||
    (y0 < box[1] && y1 < box[1] && y2 < box[1]) ||
    (y0 > box[3] && y1 > box[3] && y2 > box[3])
  )
    return true;
  for (let k = 0; k < planes.length; k += 3) {
    const a = planes[k];
    const b = planes[k + 1];
    const c = planes[k + 2];
    if (a * x0 + b * y0 > c && a * x1 + b * y1 > c && a * x2 + b * y2 > c) return true;
  }
  return false;
}

/** As triangleOverlap; of a convex polygon only the edges that cut the triangle are looked at. */
export function preparedOverlap(prepared: PreparedPolygon, t: Float64Array): [number, number, number] {
  const { planes, convex, polygon } = prepared;
  if (!convex) return triangleOverlap(polygon, t);
  let points = [t[0], t[1], t[2], t[3], t[4], t[5]];
  for (let k = 0; k < planes.length; k += 3) {
    const a = planes[k];
    const b = planes[k + 1];
    const c = planes[k + 2];
    if (a * t[0] + b * t[1] <= c && a * t[2] + b * t[3] <= c && a * t[4] + b * t[5] <= c) continue;
    points = clipped(points, a, b, c);
    if (points.length < 6) return [0, 0, 0];
  }
  return polygonMoments(points);
}

/** The part of a convex polygon on which a x + b y <= c. */
function clipped(points: readonly number[], a: number, b: number, c: number): number[] {
  const kept: number[] = [];
  const n = points.length;
  let px = points[n - 2];
  let py = points[n - 1];
  let p = a * px + b * py - c;
  for (let i = 0; i < n; i += 2) {
    const qx = points[i];
    const qy = points[i + 1];
    const q = a * qx + b * qy - c;
    if (p <= 0 !== q <= 0) kept.push(px + ((qx - px) * p) / (p - q), py + ((qy - py) * p) / (p - q));
    if (q <= 0) kept.push(qx, qy);
    px = qx;
    py = qy;
    p = q;
  }
  return kept;
}
