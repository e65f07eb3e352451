/** Volume of the air in the box between the inner faces. */
import type { DomeSpec } from "./bodySpec.ts";
import { curveCurvature, curveParameters, curvePoint, curveTangent, type PlaneCurve } from "./curve.ts";
import { domeHeight, integrateOver } from "./dome.ts";
import type { Polygon } from "./polygon.ts";

/** Depth between the inner faces on the centreline at the tail and at the neck end, and the two domes. */
export interface CavityDepth {
  readonly length: number;
  readonly depthAtTail: number;
  readonly depthAtNeck: number;
  readonly topDome: DomeSpec | null;
  readonly backDome: DomeSpec | null;
}

/**
 * Depth between the inner faces at (x, y), m. On the centreline's ends it is what was stated; between them the rim's
 * planes run straight, and each dome stands over the chord between its own heights at the tail and at the neck end:
 *   depth = dT + (dN - dT) x/L + sum over both domes of [ z(x, y) - z(0, 0) - (z(L, 0) - z(0, 0)) x/L ]
 */
export function cavityDepth(cavity: CavityDepth, x: number, y: number): number {
  const along = x / cavity.length;
  let depth = cavity.depthAtTail + (cavity.depthAtNeck - cavity.depthAtTail) * along;
  for (const dome of [cavity.topDome, cavity.backDome]) {
    if (dome === null) continue;
    const tail = domeHeight(dome, 0, 0);
    depth += domeHeight(dome, x, y) - tail - (domeHeight(dome, cavity.length, 0) - tail) * along;
  }
  return depth;
}

/** Volume between the inner faces over a polygon in plan, m3. */
export function cavityVolume(inside: Polygon, cavity: CavityDepth): number {
  return integrateOver(inside, (x, y) => cavityDepth(cavity, x, y));
}

/**
 * The inner face of a side of given thickness (m) as a polygon: points of the outline about `spacing` apart moved square
 * to the edge; null where the outline is convex with a radius below the thickness, so that no inner face exists.
 */
export function insideOf(outline: PlaneCurve, thickness: number, spacing: number): Polygon | null {
  const points: number[] = [];
  for (const t of curveParameters(outline, spacing)) {
    if (thickness * curveCurvature(outline, t) >= 1) return null;
    const [x, y] = curvePoint(outline, t);
    const [dx, dy] = curveTangent(outline, t);
    points.push(x - thickness * dy, y + thickness * dx);
  }
  return Float64Array.from(points);
}
