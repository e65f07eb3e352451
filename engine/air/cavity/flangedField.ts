import type { CavityMesh } from "./cavityMesh.ts";
import { wallParts } from "./cavityRecords.ts";
import { facePoints } from "./facePoints.ts";
import type { OpeningPanels } from "./openingPanels.ts";
import { rowProducts } from "./rowProducts.ts";

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
  const { centroids, areas } = panels;
  const size = panels.count;
  const flux = new Float64Array(size);
  const level = new Float64Array(size);
  for (let g = 0; g < points.count; g++) {
    const x = points.at[3 * g];
    const y = points.at[3 * g + 1];
    const z = points.at[3 * g + 2];
    const ax = points.area[3 * g];
    const ay = points.area[3 * g + 1];
    const az = points.area[3 * g + 2];
    for (let p = 0; p < size; p++) {
      const dx = x - centroids[3 * p];
      const dy = y - centroids[3 * p + 1];
      const dz = z - centroids[3 * p + 2];
      // The softening keeps points that happen to lie beside a panel's middle from counting it as a spike.
      const square = dx * dx + dy * dy + dz * dz + 0.1 * areas[p];
      const through = (dx * ax + dy * ay + dz * az) / Math.sqrt(square);
      level[p] += through;
      flux[p] = through / square;
    }
    const flow = rowProducts(flux, patterns, size);
    const { nodes } = wall.faces[points.face[g]];
    for (let i = 0; i < nodes.length; i++) {
      const share = points.shape[9 * g + i] / (2 * Math.PI);
      const to = wall.fieldNode[nodes[i]];
      for (let b = 0; b < count; b++) loads[b * n + to] += share * flow[b];
    }
  }
  const mean = rowProducts(level, patterns, size).map((v) => v / (4 * Math.PI * volume));
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
