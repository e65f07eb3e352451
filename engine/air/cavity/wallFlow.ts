import { done, failed, type Outcome } from "#engine/numerics";
import { type CavityModes, type WallFlow, wallParts } from "./cavityRecords.ts";
import { facePoints } from "./facePoints.ts";
import { type MovingWall, nearestOnPart, type SurfacePlace } from "./nearestOnPart.ts";

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
  const places: SurfacePlace[] = [];
  const finders = [0, 1, 2].map((part) => nearestOnPart(surface, part, part !== wallParts.side));
  for (let g = 0; g < points.count; g++) {
    const { part } = wall.faces[points.face[g]];
    const find = finders[part];
    if (find === null)
      return failed("part-missing", `the structure has no ${NAMES[part]}, but the cavity has one`);
    places.push(find(points.at[3 * g], points.at[3 * g + 1], points.at[3 * g + 2]));
  }
  const count = motions.length / surface.nodes.length;
  const size = wall.fieldNode.length;
  const loads = new Float64Array(count * size);
  for (let g = 0; g < points.count; g++) {
    const { triangle, weights } = places[g];
    const { nodes } = wall.faces[points.face[g]];
    const [a, b, c] = [0, 1, 2].map((k) => 3 * surface.triangles[3 * triangle + k]);
    const [ax, ay, az] = points.area.subarray(3 * g, 3 * g + 3);
    const [wa, wb, wc] = weights;
    for (let m = 0; m < count; m++) {
      const o = m * surface.nodes.length;
      const flow =
        ax * (wa * motions[o + a] + wb * motions[o + b] + wc * motions[o + c]) +
        ay * (wa * motions[o + a + 1] + wb * motions[o + b + 1] + wc * motions[o + c + 1]) +
        az * (wa * motions[o + a + 2] + wb * motions[o + b + 2] + wc * motions[o + c + 2]);
      for (let i = 0; i < nodes.length; i++) loads[m * size + nodes[i]] += points.shape[9 * g + i] * flow;
    }
  }
  const coupling = new Float64Array(count * cavity.count);
  for (let m = 0; m < count; m++) {
    for (let n = 0; n < cavity.count; n++) {
      let sum = 0;
      for (let i = 0; i < size; i++) sum += pressure[n * size + i] * loads[m * size + i];
      coupling[m * cavity.count + n] = sum;
    }
  }
  return done({ count, loads, coupling });
}
