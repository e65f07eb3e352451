/**
 * Curvatures and transverse shear of a discrete-shear triangle with condensed side bulges: no shear locking in thin
 * plates, and the low rolling shear of spruce counts.
 *
 *        3           sides 1-2, 2-3, 3-1 along (X, Y) of length L; 9 motions w, rx, ry by corner.
 *      /   \         beta_x = ry, beta_y = -rx (u = z beta); beta = sum z_i beta_i + sum 4 z_i z_j (X, Y) d_k / L2
 *    1 ----- 2
 *
 * On each side the tangential rotation is quadratic with bulge d_k / L and the shear is constant, over the side
 *   g_k = e_k + 2/3 d_k,    e_k = wj - wi + (X, Y).(beta_i + beta_j)/2;
 * the side shears give a shear vector at each corner, linear between (the assumed shear of Katili's DKMT): the edge
 * functions z_i grad z_j - z_j grad z_i. There d_k follows from a beam formula along the side; that formula is too stiff
 * for wood, whose stiffnesses along a skew side say little of those along and across the grain (panel cases c02: 0.3 to
 * 1.1 % high at 8 mm). Here the three bulges minimise the element's energy instead: with the curvatures of the bulges
 * less their mean (incompatible modes, which keep the patch test), Kb their bending and Ks the side shears' stiffness,
 *   d = X e,    (Kb + 4/9 Ks) X = -2/3 Ks.
 * Constant curvature is reproduced exactly (e = 0, d = 0), and the curvature of the corner rotations, constant, does not
 * couple with that of the bulges.
 * What it does not promise: along free and supported edges the twist of the edge's triangles is partly released. A real
 * plate does so over about its thickness (the boundary layer), and on meshes of two to four thicknesses both agree with
 * solids within 0.7 % (panel cases c01 to c06); in the thin limit it is an error of first order in the mesh size, 0.2 %
 * in the lowest modes at 40 triangles a side (proofs/shells/flatPlates).
 * Sources: I. Katili, Int. J. Numer. Meth. Engng 36, 1859-1883 (1993); incompatible modes with zero mean: R. L. Taylor,
 * P. J. Beresford, E. L. Wilson, ibid. 10, 1211-1219 (1976); both from memory. Their combination is ours.
 */

/** Memory for one element. */
export interface BendingStrains {
  /** Mean curvatures (kx, ky, kxy) and side sums (e1, e2, e3): 6 by motion. */
  readonly byMotion: Float64Array;
  /** 3 x 3 row by row: d_k = sum X[3 k + m] e_m. */
  readonly bulge: Float64Array;
  /** Curvatures of unit bulges less their mean at the points 1-2, 2-3, 3-1: 3 points x 3 sides x 3. */
  readonly high: Float64Array;
  /** Shear vectors of unit side shears at the points: 3 points x 3 sides x 2. */
  readonly edge: Float64Array;
}

export function bendingStrainMemory(): BendingStrains {
  return {
    byMotion: new Float64Array(54),
    bulge: new Float64Array(9),
    high: new Float64Array(27),
    edge: new Float64Array(18),
  };
}

/**
 * Fills `out` (in place) but for its bulge, which waits for the stiffnesses (elementForm.ts). `x`, `y`: corners, m; `area`
 * of the triangle.
 */
export function bendingStrains(x: Float64Array, y: Float64Array, area: number, out: BendingStrains): void {
  const { byMotion: g, high, edge } = out;
  const twice = 1 / (2 * area);
  g.fill(0);
  for (let k = 0; k < 3; k++) {
    const j = k === 2 ? 0 : k + 1;
    const o = 3 - k - j;
    // gradients of the shape functions of the side's corners and of the one opposite
    const ix = (y[j] - y[o]) * twice;
    const iy = (x[o] - x[j]) * twice;
    const jx = (y[o] - y[k]) * twice;
    const jy = (x[k] - x[o]) * twice;
    const ox = -ix - jx;
    const oy = -iy - jy;
    const dx = x[j] - x[k];
    const dy = y[j] - y[k];

    const a = 18 * k;
    const b = 18 * j;
    g[a + 7] = -iy;
    g[a + 8] = -ix;
    g[a + 12] = ix;
    g[a + 14] = iy;
    const e = 3 + k;
    g[a + e] = -1;
    g[a + 6 + e] = -0.5 * dy;
    g[a + 12 + e] = 0.5 * dx;
    g[b + e] = 1;
    g[b + 6 + e] = -0.5 * dy;
    g[b + 12 + e] = 0.5 * dx;

    // gradient of 4 z_i z_j at its own mid-side, at that of the next side and of the one before, less its mean
    const s = 1 / (dx * dx + dy * dy);
    const own = 9 * k + 3 * k;
    const next = 9 * j + 3 * k;
    const last = 9 * o + 3 * k;
    bulgeCurvature(high, own, s * dx, s * dy, (-2 / 3) * ox, (-2 / 3) * oy);
    bulgeCurvature(high, next, s * dx, s * dy, 2 * ix + (4 / 3) * ox, 2 * iy + (4 / 3) * oy);
    bulgeCurvature(high, last, s * dx, s * dy, 2 * jx + (4 / 3) * ox, 2 * jy + (4 / 3) * oy);
    edge[6 * k + 2 * k] = 0.5 * (jx - ix);
    edge[6 * k + 2 * k + 1] = 0.5 * (jy - iy);
    edge[6 * j + 2 * k] = -0.5 * ix;
    edge[6 * j + 2 * k + 1] = -0.5 * iy;
    edge[6 * o + 2 * k] = 0.5 * jx;
    edge[6 * o + 2 * k + 1] = 0.5 * jy;
  }
}

function bulgeCurvature(
  high: Float64Array,
  at: number,
  dx: number,
  dy: number,
  px: number,
  py: number,
): void {
  high[at] = dx * px;
  high[at + 1] = dy * py;
  high[at + 2] = dx * py + dy * px;
}
