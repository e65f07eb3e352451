import type { Polygon } from "#engine/geometry";

/**
 * Area and first moments of the part of a polygon inside a triangle: [area, int x, int y], m2 and m3.
 * `triangle`: x0 y0 x1 y1 x2 y2, anticlockwise.
 */
export function triangleOverlap(polygon: Polygon, triangle: Float64Array): [number, number, number] {
  return polygonMoments(clippedPolygon(polygon, triangle));
}

/**
 * Corners (x, y) of the part of a polygon inside a triangle. The polygon may be concave (Sutherland-Hodgman against the
 * convex triangle; doubled-back edges cancel in all moments) and of either turning sense, which it keeps.
 */
export function clippedPolygon(polygon: Polygon, triangle: Float64Array): number[] {
  let points: number[] = Array.from(polygon);
  for (let e = 0; e < 3; e++) {
    const ax = triangle[2 * e];
    const ay = triangle[2 * e + 1];
    const ux = triangle[(2 * e + 2) % 6] - ax;
    const uy = triangle[(2 * e + 3) % 6] - ay;
    const kept: number[] = [];
    const n = points.length / 2;
    for (let i = 0; i < n; i++) {
      const px = points[2 * i];
      const py = points[2 * i + 1];
      const qx = points[(2 * i + 2) % (2 * n)];
      const qy = points[(2 * i + 3) % (2 * n)];
      const p = ux * (py - ay) - uy * (px - ax);
      const q = ux * (qy - ay) - uy * (qx - ax);
      if (p >= 0) kept.push(px, py);
      if (p >= 0 !== q >= 0) kept.push(px + ((qx - px) * p) / (p - q), py + ((qy - py) * p) / (p - q));
    }
    points = kept;
    if (points.length < 6) return [];
  }
  return points;
}

/** [area, int x, int y] of a polygon of either turning sense, m2 and m3. */
export function polygonMoments(points: readonly number[]): [number, number, number] {
  if (points.length < 6) return [0, 0, 0];
  const x0 = points[0];
  const y0 = points[1];
  let area = 0;
  let mx = 0;
  let my = 0;
  for (let i = 2; i < points.length - 2; i += 2) {
    const a = ((points[i] - x0) * (points[i + 3] - y0) - (points[i + 2] - x0) * (points[i + 1] - y0)) / 2;
    area += a;
    mx += (a * (x0 + points[i] + points[i + 2])) / 3;
    my += (a * (y0 + points[i + 1] + points[i + 3])) / 3;
  }
  return area < 0 ? [-area, -mx, -my] : [area, mx, my];
}
