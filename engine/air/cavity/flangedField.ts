import type { CavityMesh } from "./cavityMesh.ts";
import { wallParts } from "./cavityRecords.ts";
import { facePoints } from "./facePoints.ts";
import { type FaceTriangles, faceTriangles } from "./faceTriangles.ts";
import type { OpeningPanels } from "./openingPanels.ts";
import { rowProducts } from "./rowProducts.ts";
import { solidAngle } from "./solidAngle.ts";

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
  const near = wall.faces.map((face, f) => {
    // The top lies nearly in the plane of a flat hole: next to nothing goes through it.
    if (!bent && (face.part === wallParts.aperture || face.part === wallParts.top)) return false;
    return nearOpening(mesh, panels, f);
  });
  const points = facePoints(wall, (f) =>
    near[f] || (!bent && wall.faces[f].part === wallParts.aperture) ? 0 : 1,
  );
  const loads = new Float64Array(count * n);
  const { centroids } = panels;
  const size = panels.count;
  const flux = new Float64Array(size);
  const level = new Float64Array(size);
  const flow = new Float64Array(count);
  /** Adds what goes through a small piece of a face to the loads of the face's nodes. */
  const take = (face: number, shape: Float64Array, at: number) => {
    rowProducts(flux, patterns, size, flow);
    const { nodes } = wall.faces[face];
    for (let i = 0; i < nodes.length; i++) {
      const share = shape[at + i] / (2 * Math.PI);
      const to = wall.fieldNode[nodes[i]];
      for (let b = 0; b < count; b++) loads[b * n + to] += share * flow[b];
    }
  };
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
      const square = dx * dx + dy * dy + dz * dz;
      const through = (dx * ax + dy * ay + dz * az) / Math.sqrt(square);
      level[p] += through;
      flux[p] = through / square;
    }
    take(points.face[g], points.shape, 9 * g);
  }
  for (let f = 0; f < near.length; f++)
    if (near[f])
      throughNear(faceTriangles(wall, f, NEAR_CUTS), panels, flux, level, (shape, at) => take(f, shape, at));
  const mean = rowProducts(level, patterns, size).map((v) => v / (4 * Math.PI * volume));
  return { loads, mean };
}

/** Pieces that the side of a face near the opening is cut into. */
const NEAR_CUTS = 4;

/**
 * Near the opening the flow through each small triangle is the solid angle under which the panel sees it: none is lost,
 * however close a panel lies to a wall. Panels in the triangle's plane send nothing through it.
 */
function throughNear(
  { count, corners, shape }: FaceTriangles,
  { centroids, areas, count: size }: OpeningPanels,
  flux: Float64Array,
  level: Float64Array,
  take: (shape: Float64Array, at: number) => void,
): void {
  for (let t = 0; t < count; t++) {
    const c = corners.subarray(9 * t, 9 * t + 9);
    const ux = c[3] - c[0];
    const uy = c[4] - c[1];
    const uz = c[5] - c[2];
    const vx = c[6] - c[0];
    const vy = c[7] - c[1];
    const vz = c[8] - c[2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    for (let p = 0; p < size; p++) {
      const ax = c[0] - centroids[3 * p];
      const ay = c[1] - centroids[3 * p + 1];
      const az = c[2] - centroids[3 * p + 2];
      const rise = (ax * nx + ay * ny + az * nz) / twice;
      const mx = ax + (ux + vx) / 3;
      const my = ay + (uy + vy) / 3;
      const mz = az + (uz + vz) / 3;
      const distance = Math.sqrt(mx * mx + my * my + mz * mz);
      const inPlane = Math.abs(rise) < IN_PLANE * Math.sqrt(areas[p]) && Math.abs(rise) < IN_PLANE * distance;
      flux[p] = inPlane ? 0 : solidAngle(ax, ay, az, ax + ux, ay + uy, az + uz, ax + vx, ay + vy, az + vz);
      level[p] += (rise * twice) / (2 * distance);
    }
    take(shape, 9 * t);
  }
}

/** Rise over a triangle's plane, in panel widths and in distances, below which a panel counts as lying in it. */
const IN_PLANE = 0.03;

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
