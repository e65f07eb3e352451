import { done, failed, type Outcome } from "#engine/numerics";
import { type CavityModes, type WallFlow, wallParts } from "./cavityRecords.ts";
import { facePoints } from "./facePoints.ts";
import { type MovingWall, nearestOnPart } from "./nearestOnPart.ts";
import { rowProducts } from "./rowProducts.ts";

/** Pieces that the side of a face is cut into: about 10 mm apart lie the points where the structure's motion is read. */
const PIECES = 2;
const NAMES = ["top", "back", "side"] as const;

/**
 * Flow that motions of the structure drive through the cavity's true inner faces, outward positive. motions: count x nodes
 * of the surface x 3 (ux, uy, uz). Every integration point of an inner face moves as the nearest place of the structure's
 * own part (top and back in plan, sides in space): the wall's thickness is not lost but its rotation is (a thickness times a
 * slope, tangential). Faces of the opening stay out: their flow is the aperture's own.
 * Fails with 'part-missing' if the surface has no triangle of a part that the cavity has.
 */
export function wallFlow(
  cavity: Pick<CavityModes, "wall" | "pressure" | "count">,
  surface: MovingWall,
  motions: Float64Array,
): Outcome<WallFlow> {
  const { wall, pressure } = cavity;
  const points = facePoints(wall, (f) => (wall.faces[f].part === wallParts.aperture ? 0 : PIECES));
  const finders = [0, 1, 2].map((part) => nearestOnPart(surface, part, part !== wallParts.side));
  const count = motions.length / surface.nodes.length;
  const size = wall.fieldNode.length;
  const span = surface.nodes.length;
  const loads = new Float64Array(count * size);
  const weights = new Float64Array(3);
  for (let g = 0; g < points.count; g++) {
    const { part, nodes } = wall.faces[points.face[g]];
    const find = finders[part];
    if (find === null)
      return failed("part-missing", `the structure has no ${NAMES[part]}, but the cavity has one`);
    const t = find(points.at[3 * g], points.at[3 * g + 1], points.at[3 * g + 2], weights);
    const a = 3 * surface.triangles[3 * t];
    const b = 3 * surface.triangles[3 * t + 1];
    const c = 3 * surface.triangles[3 * t + 2];
    const ax = points.area[3 * g];
    const ay = points.area[3 * g + 1];
    const az = points.area[3 * g + 2];
    for (let m = 0; m < count; m++) {
      const o = m * span;
      const flow =
        weights[0] * (ax * motions[o + a] + ay * motions[o + a + 1] + az * motions[o + a + 2]) +
        weights[1] * (ax * motions[o + b] + ay * motions[o + b + 1] + az * motions[o + b + 2]) +
        weights[2] * (ax * motions[o + c] + ay * motions[o + c + 1] + az * motions[o + c + 2]);
      for (let i = 0; i < nodes.length; i++) loads[m * size + nodes[i]] += points.shape[9 * g + i] * flow;
    }
  }
  return done({ count, loads, coupling: rowProducts(loads, pressure, size) });
}
