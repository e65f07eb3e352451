import type { Laminate } from "../laminate.ts";
import type { TriangleScratch } from "./shellTriangle.ts";

/**
 * Numbers by triangle: Nx Ny Nxy (N/m), Mx My Mxy (N m/m), Qx Qy (N/m) at the centroid, in the element's own axes. Conventions
 * of laminate.ts: N = A e + B k, M = B e + D k with k = grad beta.
 */
export const forcesByTriangle = 8;

/**
 * Mean generalised strains of one triangle (laminate.ts: ex ey gxy kx ky kxy gxz gyz, in the element's own axes) under the 18
 * motions `u` (ux uy uz rx ry rz by corner, in the frame of the corners), written to out[at .. at + 7]. The scratch holds the
 * triangle (`triangleStrains`). A plate bent hollow outward (w'' > 0) has k < 0; shear from the mean of the side shears.
 */
export function triangleMeanStrains(
  u: Float64Array,
  s: TriangleScratch,
  out: Float64Array,
  at: number,
): void {
  const { frame: f, membrane, bending } = s;
  const sums = new Float64Array(3);
  for (let r = 0; r < 6; r++) out[at + r] = 0;
  for (let c = 0; c < 3; c++) {
    const p = 6 * c;
    for (let k = 0; k < 3; k++) {
      // own axis k: translations, then rotations
      const move = f[3 * k] * u[p] + f[3 * k + 1] * u[p + 1] + f[3 * k + 2] * u[p + 2];
      const turn = f[3 * k] * u[p + 3] + f[3 * k + 1] * u[p + 4] + f[3 * k + 2] * u[p + 5];
      const g = membrane.byMotion;
      const b = bending.byMotion;
      if (k < 2) {
        const m = 6 * (3 * c + k);
        for (let r = 0; r < 3; r++) out[at + r] += g[m + r] * move;
        const q = 6 * (3 * c + 1 + k);
        for (let r = 0; r < 3; r++) {
          out[at + 3 + r] += b[q + r] * turn;
          sums[r] += b[q + 3 + r] * turn;
        }
      } else {
        const m = 6 * (3 * c + 2);
        for (let r = 0; r < 3; r++) out[at + r] += g[m + r] * turn;
        for (let r = 0; r < 3; r++) sums[r] += b[6 * (3 * c) + 3 + r] * move;
      }
    }
  }
  // side shears with their bulges, then the mean of the edge functions over the three points
  const x = bending.bulge;
  let gx = 0;
  let gy = 0;
  for (let k = 0; k < 3; k++) {
    const shear = sums[k] + (2 / 3) * (x[3 * k] * sums[0] + x[3 * k + 1] * sums[1] + x[3 * k + 2] * sums[2]);
    for (let p = 0; p < 3; p++) {
      gx += (bending.edge[6 * p + 2 * k] * shear) / 3;
      gy += (bending.edge[6 * p + 2 * k + 1] * shear) / 3;
    }
  }
  out[at + 6] = gx;
  out[at + 7] = gy;
}

/**
 * Forces and moments per metre that go with mean strains (8 from `at` on): C e less what held growth takes away
 * (laminate.ts), written to out[at .. at + 7].
 */
export function forcesOfStrains(
  strains: Float64Array,
  { stiffness: l, held }: Laminate,
  out: Float64Array,
  at: number,
): void {
  for (let r = 0; r < 6; r++) {
    let sum = held === null ? 0 : -held[r];
    for (let k = 0; k < 6; k++) sum += l[8 * r + k] * strains[at + k];
    out[at + r] = sum;
  }
  const gx = strains[at + 6];
  const gy = strains[at + 7];
  out[at + 6] = l[54] * gx + l[55] * gy;
  out[at + 7] = l[62] * gx + l[63] * gy;
}

/**
 * Loads on the 18 motions that growth of the triangle's layers makes when it is free to work: the area times the strains of
 * unit motions against `held` (laminate.ts). The inner strains have zero mean and take no part. Written to out (18).
 */
export function triangleGrowthLoad(
  held: Float64Array,
  area: number,
  s: TriangleScratch,
  out: Float64Array,
): void {
  const { frame: f, membrane, bending } = s;
  const g = membrane.byMotion;
  const b = bending.byMotion;
  for (let c = 0; c < 3; c++) {
    const p = 6 * c;
    for (let j = 0; j < 6; j++) out[p + j] = 0;
    for (let k = 0; k < 3; k++) {
      // forces on the own axes' translation and rotation k
      let move = 0;
      let turn = 0;
      for (let r = 0; r < 3; r++) {
        if (k < 2) {
          move += g[6 * (3 * c + k) + r] * held[r];
          turn += b[6 * (3 * c + 1 + k) + r] * held[3 + r];
        } else turn += g[6 * (3 * c + 2) + r] * held[r];
      }
      for (let j = 0; j < 3; j++) {
        out[p + j] += area * move * f[3 * k + j];
        out[p + 3 + j] += area * turn * f[3 * k + j];
      }
    }
  }
}
