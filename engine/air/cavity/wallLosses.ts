import type { AirProperties } from "../airProperties.ts";
import type { CavityMesh } from "./cavityMesh.ts";
import { wallParts } from "./cavityRecords.ts";

export interface WallLosses {
  /** m2: all walls of the elements, opening left out. */
  readonly area: number;
  /**
   * Coefficients of the modes (pressure: count x wall nodes; lambda, 1/m2), s^-1/2, see `CavityModes`:
   *   heat_n = (gamma - 1) sqrt(alpha/2) integral psi_n2 dS / V,   friction_n = sqrt(nu/2) integral |grad_t psi_n|2 dS / (lambda_n V)
   * both times wallArea/area if a true wall area is told. friction_0 = 0: the even pressure moves nothing along the walls.
   * Thin layers: valid where sqrt(2 nu/omega) (0.4 mm at 30 Hz) is small against the box. Source: MORSE-INGARD, from memory.
   */
  of(
    pressure: Float64Array,
    lambda: Float64Array,
    volume: number,
    wallArea: number | null,
  ): { readonly heat: Float64Array; readonly friction: Float64Array };
}

/** The walls' boundary layers, integrated over the wall's flat triangles, psi linear on each. */
export function wallLosses({ wall }: CavityMesh, air: AirProperties): WallLosses {
  const { nodes, triangles, part } = wall;
  const count = nodes.length / 3;
  const used: number[] = [];
  for (let t = 0; t < part.length; t++) if (part[t] !== wallParts.aperture) used.push(t);
  const areas = new Float64Array(used.length);
  // Gradient of a triangle's linear function: sum over corners of value x (normal x opposite edge)/(2 area).
  const slopes = new Float64Array(9 * used.length);
  for (let k = 0; k < used.length; k++) {
    const [a, b, c] = [0, 1, 2].map((i) => 3 * triangles[3 * used[k] + i]);
    const ux = nodes[b] - nodes[a];
    const uy = nodes[b + 1] - nodes[a + 1];
    const uz = nodes[b + 2] - nodes[a + 2];
    const vx = nodes[c] - nodes[a];
    const vy = nodes[c + 1] - nodes[a + 1];
    const vz = nodes[c + 2] - nodes[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const square = nx * nx + ny * ny + nz * nz;
    areas[k] = Math.sqrt(square) / 2;
    // Of corner b: normal x (edge from c to a); of corner c: normal x (edge from a to b); of a: less both.
    const o = 9 * k;
    slopes[o + 3] = (nz * vy - ny * vz) / square;
    slopes[o + 4] = (nx * vz - nz * vx) / square;
    slopes[o + 5] = (ny * vx - nx * vy) / square;
    slopes[o + 6] = (ny * uz - nz * uy) / square;
    slopes[o + 7] = (nz * ux - nx * uz) / square;
    slopes[o + 8] = (nx * uy - ny * ux) / square;
    for (let d = 0; d < 3; d++) slopes[o + d] = -slopes[o + 3 + d] - slopes[o + 6 + d];
  }
  const area = areas.reduce((sum, a) => sum + a, 0);
  return {
    area,
    of: (pressure, lambda, volume, wallArea) => {
      const ratio = wallArea === null ? 1 : wallArea / area;
      const heat = new Float64Array(lambda.length);
      const friction = new Float64Array(lambda.length);
      for (let m = 0; m < lambda.length; m++) {
        let [square, slope] = [0, 0];
        const from = m * count;
        for (let k = 0; k < used.length; k++) {
          const t = 3 * used[k];
          const v0 = pressure[from + triangles[t]];
          const v1 = pressure[from + triangles[t + 1]];
          const v2 = pressure[from + triangles[t + 2]];
          square += (areas[k] / 6) * (v0 * v0 + v1 * v1 + v2 * v2 + v0 * v1 + v1 * v2 + v2 * v0);
          for (let d = 0; d < 3; d++) {
            const g = v0 * slopes[9 * k + d] + v1 * slopes[9 * k + 3 + d] + v2 * slopes[9 * k + 6 + d];
            slope += areas[k] * g * g;
          }
        }
        heat[m] = (ratio * (air.heatRatio - 1) * Math.sqrt(air.thermalDiffusivity / 2) * square) / volume;
        if (m > 0)
          friction[m] = (ratio * Math.sqrt(air.viscosity / air.density / 2) * slope) / (lambda[m] * volume);
      }
      return { heat, friction };
    },
  };
}
