import type { DomeSpec } from "#engine/geometry";
import type { ShellMesh } from "./shellMesh.ts";

/** Outward unit normal of the mid-surface at a plan point; `slope`: rise per metre along x that the dome stands on. */
function surfaceNormal(
  dome: DomeSpec | null,
  x: number,
  y: number,
  slope: number,
): readonly [number, number, number] {
  const dx = dome === null ? 0 : (x - dome.apex[0]) / dome.radius;
  const dy = dome === null ? 0 : (y - dome.apex[1]) / dome.radius;
  const dz = Math.sqrt(1 - dx * dx - dy * dy);
  const size = Math.hypot(dx - slope * dz, dy, dz);
  return [(dx - slope * dz) / size, dy / size, dz / size];
}

/** The edge i-j: length, unit tangent, and the surface normal at its middle made square to the tangent. */
export function edgeFrame(
  mesh: ShellMesh,
  dome: DomeSpec | null,
  i: number,
  j: number,
  slope = 0,
): { length: number; tangent: number[]; normal: number[] } {
  const at = (node: number): Float64Array => mesh.nodes.subarray(3 * node, 3 * node + 3);
  return lineFrame(dome, at(i), at(j), slope);
}

/** The same of the straight line between two places (x, y, z) of the surface. */
export function lineFrame(
  dome: DomeSpec | null,
  from: ArrayLike<number>,
  to: ArrayLike<number>,
  slope: number,
): { length: number; tangent: number[]; normal: number[] } {
  const d = [0, 1, 2].map((k) => to[k] - from[k]);
  const length = Math.hypot(d[0], d[1], d[2]);
  const tangent = d.map((v) => v / length);
  const n = surfaceNormal(dome, (from[0] + to[0]) / 2, (from[1] + to[1]) / 2, slope);
  const along = n[0] * tangent[0] + n[1] * tangent[1] + n[2] * tangent[2];
  const square = n.map((v, k) => v - along * tangent[k]);
  const size = Math.hypot(square[0], square[1], square[2]);
  return { length, tangent, normal: square.map((v) => v / size) };
}
