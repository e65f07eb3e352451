/**
 * Strains of the optimal membrane triangle with drilling rotations (OPT, template of ANDES type).
 *
 *        3          corners anticlockwise; 9 motions u1 v1 t1 u2 v2 t2 u3 v3 t3, t the rotation about +z.
 *      /   \        x_ij = x_i - x_j; sides 21, 32, 13 carry the natural strains.
 *    1 ----- 2
 *
 * The template's stiffness  K = L E L' / V + 3/4 b0 T' Kt T  is written here as strains at the three mid-side points,
 * weight A/3 each:  e = L' q / V  +  3/2 sqrt(b0) Te Qm T q,  so that a laminate's coupling of membrane and bending can
 * be integrated with the bending strains at the same points. The higher part has zero mean, hence the equality.
 * Parameters of OPT: alpha_b = 3/2, beta1..9 = 1, 2, 1, 0, 1, -1, -1, -1, -2; b0 = 1/2 (1 - 4 nu2), at least 0.01,
 * with nu2 = A12^2 / (A11 A22) for wood (the isotropic value if isotropic; our generalisation).
 * Source: C. A. Felippa, Comput. Methods Appl. Mech. Engrg. 192, 2125-2168 (2003), from memory.
 */
const beta = [0, 1, 2, 1, 0, 1, -1, -1, -1, -2] as const;
/** Index of beta in the corner matrices Q1, Q2, Q3 (rows: sides 21, 32, 13; columns: rotations 1, 2, 3). */
const corner = [
  [1, 2, 3, 4, 5, 6, 7, 8, 9],
  [9, 7, 8, 3, 1, 2, 6, 4, 5],
  [5, 6, 4, 8, 9, 7, 2, 3, 1],
] as const;
/** Corner pairs of the mid-side points, in the order of the sides 1-2, 2-3, 3-1. */
const pairs = [
  [0, 1],
  [1, 2],
  [2, 0],
] as const;

/**
 * Writes the membrane rows (ex, ey, gxy) into `out` (zeros): 3 points x 8 rows x 18 motions (ux uy uz rx ry rz by corner).
 * `x`, `y`: corners, m. `poissonSquared`: nu2 above.
 */
export function membraneStrains(
  x: Float64Array,
  y: Float64Array,
  poissonSquared: number,
  out: Float64Array,
): void {
  const x12 = x[0] - x[1];
  const x23 = x[1] - x[2];
  const x31 = x[2] - x[0];
  const y12 = y[0] - y[1];
  const y23 = y[1] - y[2];
  const y31 = y[2] - y[0];
  const x21 = -x12;
  const x32 = -x23;
  const x13 = -x31;
  const y21 = -y12;
  const y32 = -y23;
  const y13 = -y31;
  const area = (x21 * y31 - x31 * y21) / 2;
  const q = 1 / (2 * area);
  const ab = 1.5 / 6;
  // mean strains, L' / V
  const mean = [
    [y23, x32, y23 * (y13 - y21), x32 * (x31 - x12), 2 * (x31 * y13 - x12 * y21)],
    [y31, x13, y31 * (y21 - y32), x13 * (x12 - x23), 2 * (x12 * y21 - x23 * y32)],
    [y12, x21, y12 * (y32 - y13), x21 * (x23 - x31), 2 * (x23 * y32 - x31 * y13)],
  ] as const;
  const t = 1 / (4 * area * area);
  // cartesian strains of unit natural strains; the side length squared cancels against the one in Q
  const te = [
    [y23 * y13 * t, y31 * y21 * t, y12 * y32 * t],
    [x23 * x13 * t, x31 * x21 * t, x12 * x32 * t],
    [(y23 * x31 + x32 * y13) * t, (y31 * x12 + x13 * y21) * t, (y12 * x23 + x21 * y32) * t],
  ] as const;
  const b0 = Math.max(0.5 * (1 - 4 * poissonSquared), 0.01);
  const scale = 1.5 * Math.sqrt(b0) * ((2 * area) / 3);
  const tu = [x32, x13, x21].map((v) => v / (4 * area));
  const tv = [y32, y13, y21].map((v) => v / (4 * area));
  for (let p = 0; p < 3; p++) {
    const [c0, c1] = pairs[p];
    for (let r = 0; r < 3; r++) {
      const row = (p * 8 + r) * 18;
      let sum = 0;
      for (let node = 0; node < 3; node++) {
        let h = 0;
        for (let side = 0; side < 3; side++) {
          const k = 3 * side + node;
          h += te[r][side] * 0.5 * (beta[corner[c0][k]] + beta[corner[c1][k]]);
        }
        h *= scale;
        sum += h;
        const m = mean[node];
        out[row + 6 * node + 5] = h + q * ab * m[2 + r];
      }
      for (let node = 0; node < 3; node++) {
        const m = mean[node];
        const low = r === 0 ? q * m[0] : r === 2 ? q * m[1] : 0;
        const high = r === 1 ? q * m[1] : r === 2 ? q * m[0] : 0;
        out[row + 6 * node] = low + sum * tu[node];
        out[row + 6 * node + 1] = high + sum * tv[node];
      }
    }
  }
}
