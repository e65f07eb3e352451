/**
 * Strains of the optimal membrane triangle with drilling rotations (OPT, template of ANDES type).
 *
 *        3          corners anticlockwise; 9 motions u1 v1 t1 u2 v2 t2 u3 v3 t3, t the rotation about +z.
 *      /   \        x_ij = x_i - x_j; sides 21, 32, 13 carry the natural strains.
 *    1 ----- 2
 *
 * The template's stiffness  K = L E L' / V + 3/4 b0 T' Kt T  is written here as strains at the three mid-side points,
 * weight A/3 each:  e = L' q / V  +  h th,   th = T q  the corner rotations over the mean one,  h = 3/2 sqrt(b0) Te Qm,
 * so that a laminate's coupling of membrane and bending can be integrated with the bending strains at the same points.
 * The second part has zero mean over the points, hence the equality, and the two do not couple.
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

/** Memory for one element. */
export interface MembraneStrains {
  /** Mean strains (ex, ey, gxy) and corner rotations over the mean (th1, th2, th3): 6 by motion. */
  readonly byMotion: Float64Array;
  /** Strains of unit th at the points 1-2, 2-3, 3-1: 3 points x 3 rotations x 3 strains. */
  readonly high: Float64Array;
  /** Qm at the points, 3 points x 3 sides x 3 rotations: the mean of the matrices at the two ends of the side. */
  readonly natural: Float64Array;
}

export function membraneStrainMemory(): MembraneStrains {
  const natural = new Float64Array(27);
  for (let p = 0; p < 3; p++) {
    for (let k = 0; k < 9; k++)
      natural[9 * p + k] = 0.5 * (beta[corner[p][k]] + beta[corner[(p + 1) % 3][k]]);
  }
  return { byMotion: new Float64Array(54), high: new Float64Array(27), natural };
}

/** Fills `out` (in place). `x`, `y`: corners, m; `area` of the triangle; `poissonSquared`: nu2 above. */
export function membraneStrains(
  x: Float64Array,
  y: Float64Array,
  area: number,
  poissonSquared: number,
  out: MembraneStrains,
): void {
  const x21 = x[1] - x[0];
  const x32 = x[2] - x[1];
  const x13 = x[0] - x[2];
  const y12 = y[0] - y[1];
  const y23 = y[1] - y[2];
  const y31 = y[2] - y[0];
  const g = out.byMotion;
  const q = 1 / (2 * area);
  const ab = q * (1.5 / 6);
  const tq = 1 / (4 * area);
  corners(g, 0, q * y23, q * x32, ab * y23 * (y12 - y31), ab * x32 * (x21 - x13));
  corners(g, 18, q * y31, q * x13, ab * y31 * (y23 - y12), ab * x13 * (x32 - x21));
  corners(g, 36, q * y12, q * x21, ab * y12 * (y31 - y23), ab * x21 * (x13 - x32));
  g[14] = ab * 2 * (x13 * y31 - x21 * y12);
  g[32] = ab * 2 * (x21 * y12 - x32 * y23);
  g[50] = ab * 2 * (x32 * y23 - x13 * y31);
  // th = t + mean of the displacements' turn, the same in all three
  for (let r = 3; r < 6; r++) {
    g[r] = tq * x32;
    g[6 + r] = -tq * y23;
    g[18 + r] = tq * x13;
    g[24 + r] = -tq * y31;
    g[36 + r] = tq * x21;
    g[42 + r] = -tq * y12;
    g[12 + r] = g[30 + r] = g[48 + r] = 0;
  }
  g[15] = g[34] = g[53] = 1;

  // cartesian strains of unit natural strains; the side length squared cancels against the one in Q
  const b0 = Math.max(0.5 * (1 - 4 * poissonSquared), 0.01);
  const t = Math.sqrt(b0) * tq;
  const a0 = -t * y23 * y31;
  const a1 = -t * y31 * y12;
  const a2 = -t * y12 * y23;
  const b0x = -t * x32 * x13;
  const b1x = -t * x13 * x21;
  const b2x = -t * x21 * x32;
  const c0 = -t * (y23 * x13 + x32 * y31);
  const c1 = -t * (y31 * x21 + x13 * y12);
  const c2 = -t * (y12 * x32 + x21 * y23);
  const { high, natural } = out;
  for (let p = 0; p < 27; p += 9) {
    for (let node = 0; node < 3; node++) {
      const n0 = natural[p + node];
      const n1 = natural[p + 3 + node];
      const n2 = natural[p + 6 + node];
      const at = p + 3 * node;
      high[at] = a0 * n0 + a1 * n1 + a2 * n2;
      high[at + 1] = b0x * n0 + b1x * n1 + b2x * n2;
      high[at + 2] = c0 * n0 + c1 * n1 + c2 * n2;
    }
  }
}

/** Mean strains under the motions u, v and, without the shear, t of one corner. */
function corners(g: Float64Array, at: number, dx: number, dy: number, tx: number, ty: number): void {
  g[at] = dx;
  g[at + 1] = 0;
  g[at + 2] = dy;
  g[at + 6] = 0;
  g[at + 7] = dy;
  g[at + 8] = dx;
  g[at + 12] = tx;
  g[at + 13] = ty;
}
