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
  // By point: three nodes of the structure, its flow per motion of each (x, y, z), and the wall's nodes it counts for.
  const from = new Uint32Array(3 * points.count);
  const share = new Float64Array(9 * points.count);
  const to = new Uint32Array(9 * points.count);
  const weights = new Float64Array(3);
  for (let g = 0; g < points.count; g++) {
    const { part, nodes } = wall.faces[points.face[g]];
    const find = finders[part];
    if (find === null)
      return failed("part-missing", `the structure has no ${NAMES[part]}, but the cavity has one`);
    const t = find(points.at[3 * g], points.at[3 * g + 1], points.at[3 * g + 2], weights);
    for (let k = 0; k < 3; k++) {
      from[3 * g + k] = 3 * surface.triangles[3 * t + k];
      for (let d = 0; d < 3; d++) share[9 * g + 3 * k + d] = weights[k] * points.area[3 * g + d];
    }
    to.set(nodes, 9 * g);
  }
  const loads = new Float64Array(count * size);
  for (let m = 0; m < count; m++) addLoads(motions, m * span, from, share, to, points.shape, loads, m * size);
  return done({ count, loads, coupling: rowProducts(loads, pressure, size) });
}

/** Loads of one motion; of a triangle's nine places three count for nothing. */
function addLoads(
  motions: Float64Array,
  start: number,
  from: Uint32Array,
  share: Float64Array,
  to: Uint32Array,
  shape: Float64Array,
  loads: Float64Array,
  row: number,
): void {
  for (let g = 0; 3 * g < from.length; g++) {
    const a = start + from[3 * g];
    const b = start + from[3 * g + 1];
    const c = start + from[3 * g + 2];
    const o = 9 * g;
    const flow =
      share[o] * motions[a] +
      share[o + 1] * motions[a + 1] +
      share[o + 2] * motions[a + 2] +
      share[o + 3] * motions[b] +
      share[o + 4] * motions[b + 1] +
      share[o + 5] * motions[b + 2] +
      share[o + 6] * motions[c] +
      share[o + 7] * motions[c + 1] +
      share[o + 8] * motions[c + 2];
    for (let i = o; i < o + 9; i++) loads[row + to[i]] += shape[i] * flow;
  }
}
