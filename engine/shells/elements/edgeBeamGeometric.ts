import { beamAt, beamSize, beamWeight, gatherRow } from "./edgeBeam.ts";

/**
 * Geometric stiffness of an edge beam (edgeBeam.ts) under the even axial force P of its own section (N, tension
 * positive) along its centroid: fills `out` (14 x 14) with
 *   int P (v'.v') ds,   v the motion of the centroid in all three directions,
 * v along t and b linear between the ends, along n the cubic of the stiffness. `height`: of the centroid on the normal
 * at both ends, glue + centroid; `glue`: of the glue line; `phi` = 12 EI / (GAs L2), 0 if rigid in shear.
 */
export function edgeBeamGeometric(
  length: number,
  tangent: readonly number[],
  normal: readonly number[],
  glue: readonly [number, number],
  height: readonly [number, number],
  phi: number,
  force: number,
  out: Float64Array,
): void {
  const t = tangent;
  const n = normal;
  const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]] as const;
  const f = 1 / (1 + phi);
  const row = new Float64Array(3 * beamSize);
  out.fill(0);
  for (let g = 0; g < 3; g++) {
    const xi = beamAt[g];
    row.fill(0);
    // derivatives over xi of xi (1 - xi) and of xi (1 - xi)(1 - 2 xi)
    const bubble = 1 - 2 * xi;
    const skew = -f * (1 - 6 * xi + 6 * xi * xi);
    for (let end = 0; end < 2; end++) {
      const sign = end === 0 ? -1 : 1;
      const p = 6 * end;
      const turn = ((sign * bubble + skew) * length) / 2;
      for (let k = 0; k < 3; k++) {
        row[p + k] = sign * t[k];
        row[p + 3 + k] = sign * height[end] * b[k];
        row[beamSize + p + k] = sign * b[k];
        row[beamSize + p + 3 + k] = -sign * height[end] * t[k];
        row[2 * beamSize + p + k] = (sign + sign * skew) * n[k];
        row[2 * beamSize + p + 3 + k] = turn * b[k];
      }
      row[12 + end] = sign * (height[end] - glue[end]);
      row[2 * beamSize + 12 + end] = turn;
    }
    for (let r = 0; r < 3; r++) gatherRow(out, row, r, (beamWeight[g] * force) / length);
  }
}
