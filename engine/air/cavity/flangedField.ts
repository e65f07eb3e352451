import type { CavityMesh } from "./cavityMesh.ts";
import { wallParts } from "./cavityRecords.ts";
import { facePoints } from "./facePoints.ts";
import type { OpeningPanels } from "./openingPanels.ts";

/** What the field of flows through the opening, as if under an endless flange, does at the cavity's own walls. */
export interface FlangedField {
  /** patterns x n: loads on the field's nodes of the flow that the walls must still stop. */
  readonly loads: Float64Array;
  /** By pattern: mean of the flanged potential over the cavity, m3/s per m. */
  readonly mean: Float64Array;
}

/**
 * Inside, the potential of a pattern is split as phi = phi_f + phi_r. phi_f = 1/(2 pi) sum over panels of flow/r has the
 * edge's singularity and lets through just the wanted flow; phi_r is smooth, and the elements find it from the flow
 * -d phi_f/dn that the walls have to stop. The mean of phi_f comes from the walls as well, because div(r/|r|) = 2/|r|.
 * On the opening itself the flow is as wanted, if it is flat; the flow that a scooped side's panels send through the
 * hole (and back) is stopped like any other.
 */
export function flangedField(
  mesh: CavityMesh,
  panels: OpeningPanels,
  patterns: Float64Array,
  volume: number,
): FlangedField {
  const { wall, levels, plan } = mesh;
  const count = patterns.length / panels.count;
  const n = (plan.nodes.length / 2) * levels;
  const bent = plan.opening !== null && plan.opening.scooped !== null;
  const points = facePoints(wall, (f) => {
    const { part } = wall.faces[f];
    if (part === wallParts.aperture && !bent) return 0;
    // The top lies nearly in the plane of the hole: next to nothing goes through it.
    if (part === wallParts.top && !bent) return 1;
    return nearOpening(mesh, panels, f) ? 3 : 1;
  });
  const loads = new Float64Array(count * n);
  const mean = new Float64Array(count);
  const total = points.count;
  const { centroids, areas } = panels;
  const flux = new Float64Array(panels.count);
  const level = new Float64Array(panels.count);
  for (let g = 0; g < total; g++) {
    const [x, y, z] = points.at.subarray(3 * g, 3 * g + 3);
    const [ax, ay, az] = points.area.subarray(3 * g, 3 * g + 3);
    for (let p = 0; p < panels.count; p++) {
      const [dx, dy, dz] = [x - centroids[3 * p], y - centroids[3 * p + 1], z - centroids[3 * p + 2]];
      // The softening keeps points that happen to lie beside a panel's middle from counting it as a spike.
      const square = dx * dx + dy * dy + dz * dz + 0.1 * areas[p];
      const through = (dx * ax + dy * ay + dz * az) / Math.sqrt(square);
      level[p] = through;
      flux[p] = through / square;
    }
    const { nodes } = wall.faces[points.face[g]];
    for (let b = 0; b < count; b++) {
      let [flow, height] = [0, 0];
      for (let p = 0; p < panels.count; p++) {
        flow += patterns[b * panels.count + p] * flux[p];
        height += patterns[b * panels.count + p] * level[p];
      }
      mean[b] += height / (4 * Math.PI * volume);
      for (let i = 0; i < nodes.length; i++)
        loads[b * n + wall.fieldNode[nodes[i]]] += (points.shape[9 * g + i] * flow) / (2 * Math.PI);
    }
  }
  return { loads, mean };
}

/** Is some panel nearer to the face's middle than the face is wide? */
function nearOpening({ wall }: CavityMesh, panels: OpeningPanels, face: number): boolean {
  const { nodes } = wall.faces[face];
  const last = nodes.length === 6 ? 3 : 9;
  const at = (k: number, d: number) => wall.nodes[3 * nodes[k] + d];
  const middle = [0, 1, 2].map((d) => {
    let sum = 0;
    for (let k = 0; k < last; k++) sum += at(k, d) / last;
    return sum;
  });
  const width =
    1.2 * Math.hypot(at(0, 0) - at(last - 1, 0), at(0, 1) - at(last - 1, 1), at(0, 2) - at(last - 1, 2));
  for (let p = 0; p < panels.count; p++) {
    const c = panels.centroids;
    if (Math.hypot(middle[0] - c[3 * p], middle[1] - c[3 * p + 1], middle[2] - c[3 * p + 2]) < width)
      return true;
  }
  return false;
}
