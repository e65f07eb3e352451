/** Domed plates: height, slope and area of a spherical mid-surface, and integrals over regions of the plan. */
import { triangleRule } from "#engine/numerics";
import type { DomeSpec } from "./bodySpec.ts";
import { type PlateRegion, type Polygon, polygonCentroid } from "./polygon.ts";

/** Height of the dome over its apex plane at (x, y), m: 0 at the apex, negative elsewhere; NaN beyond the sphere. */
export function domeHeight(dome: DomeSpec | null, x: number, y: number): number {
  if (dome === null) return 0;
  const dx = x - dome.apex[0];
  const dy = y - dome.apex[1];
  const squared = dx * dx + dy * dy;
  // sqrt(R^2 - r^2) - R written so that it does not cancel for a flat dome.
  return -squared / (dome.radius + Math.sqrt(dome.radius ** 2 - squared));
}

/** Slope of the dome [dz/dx, dz/dy] at (x, y). */
function domeSlope(dome: DomeSpec | null, x: number, y: number): readonly [number, number] {
  if (dome === null) return [0, 0];
  const dx = x - dome.apex[0];
  const dy = y - dome.apex[1];
  const rise = Math.sqrt(dome.radius ** 2 - dx * dx - dy * dy);
  return [-dx / rise, -dy / rise];
}

/**
 * Integral of f(x, y) over the inside of a simple polygon: a fan of signed triangles about its centroid, each by a rule
 * exact for polynomials of degree 5. f must be smooth over the polygon's whole hull.
 */
export function integrateOver(polygon: Polygon, f: (x: number, y: number) => number): number {
  const [cx, cy] = polygonCentroid(polygon);
  const { points, weights } = triangleRule(5);
  const n = polygon.length / 2;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const ax = polygon[2 * i] - cx;
    const ay = polygon[2 * i + 1] - cy;
    const bx = polygon[2 * j] - cx;
    const by = polygon[2 * j + 1] - cy;
    const area = (ax * by - bx * ay) / 2;
    for (let g = 0; g < weights.length; g++) {
      const u = points[3 * g];
      const v = points[3 * g + 1];
      sum += area * weights[g] * f(cx + u * ax + v * bx, cy + u * ay + v * by);
    }
  }
  return sum;
}

/** Area of a plate along its dome, m2: integral of R / sqrt(R^2 - r^2) over the region as cut. */
export function trueArea(region: PlateRegion, dome: DomeSpec | null): number {
  const stretch = (x: number, y: number): number => Math.hypot(1, ...domeSlope(dome, x, y));
  return region.holes.reduce(
    (sum, hole) => sum - integrateOver(hole, stretch),
    integrateOver(region.outline, stretch),
  );
}
