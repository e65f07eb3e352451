/**
 * Curvatures and transverse shear of a discrete-shear triangle with condensed side bulges: no shear locking in thin
 * plates, and the low rolling shear of spruce counts.
 *
 *        3           sides 1-2, 2-3, 3-1 with direction (C, S) and length L; 9 motions w, rx, ry by corner.
 *      /   \         beta_x = ry, beta_y = -rx (u = z beta); beta = sum z_i beta_i + sum 4 z_i z_j (C, S) d_k
 *    1 ----- 2
 *
 * On each side the tangential rotation is quadratic with bulge d_k and the shear is constant,
 *   g_k = e_k + 2/3 d_k,    e_k = (wj - wi)/L + (beta_si + beta_sj)/2;
 * the side shears give a shear vector at each corner, linear between (the assumed shear of Katili's DKMT). There d_k
 * follows from a beam formula along the side; that formula is too stiff for wood, whose stiffnesses along a skew side
 * say little of those along and across the grain (panel cases c02: 0.3 to 1.1 % high at 8 mm). Here the three bulges
 * minimise the element's energy instead: with the curvatures of the bulges less their mean (incompatible modes, which
 * keep the patch test), Kb their bending and Ks the side shears' stiffness,
 *   (Kb + 4/9 Ks) d = -2/3 Ks e.
 * Constant curvature is reproduced exactly (e = 0, d = 0).
 * What it does not promise: along free and supported edges the twist of the edge's triangles is partly released. A real
 * plate does so over about its thickness (the boundary layer), and on meshes of two to four thicknesses both agree with
 * solids within 0.7 % (panel cases c01 to c06); in the thin limit it is an error of first order in the mesh size, 0.2 %
 * in the lowest modes at 40 triangles a side (proofs/shells/flatPlates).
 * Sources: I. Katili, Int. J. Numer. Meth. Engng 36, 1859-1883 (1993); incompatible modes with zero mean: R. L. Taylor,
 * P. J. Beresford, E. L. Wilson, ibid. 10, 1211-1219 (1976); both from memory. Their combination is ours.
 */
const from = [0, 1, 2] as const;
const to = [1, 2, 0] as const;

/** Memory for one element. */
export interface BendingScratch {
  /** 3 x 3: d_k = sum of bulge[3 k + m] e_m, the condensation. */
  readonly bulge: Float64Array;
  /** Curvatures (3) and shear (2) per unit bulge and side shear: 3 points x 3 sides x 5. */
  readonly unit: Float64Array;
  readonly bending: Float64Array;
  readonly shear: Float64Array;
}

export function bendingScratch(): BendingScratch {
  return {
    bulge: new Float64Array(9),
    unit: new Float64Array(45),
    bending: new Float64Array(9),
    shear: new Float64Array(9),
  };
}

/**
 * Adds the bending (kx, ky, kxy) and shear (gxz, gyz) rows to `out` (zeros), laid out as in membraneStrains.
 * `c`: 8 x 8 laminate matrix in the same axes. Leaves the condensation in `s.bulge`.
 */
export function bendingStrains(
  x: Float64Array,
  y: Float64Array,
  c: Float64Array,
  s: BendingScratch,
  out: Float64Array,
): void {
  const area2 = (x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]);
  const zx = [(y[1] - y[2]) / area2, (y[2] - y[0]) / area2, (y[0] - y[1]) / area2] as const;
  const zy = [(x[2] - x[1]) / area2, (x[0] - x[2]) / area2, (x[1] - x[0]) / area2] as const;
  unitStrains(x, y, zx, zy, s.unit);
  condense(c, s);
  const { unit, bulge } = s;
  for (let p = 0; p < 3; p++) {
    const kx = (p * 8 + 3) * 18;
    const ky = kx + 18;
    const kxy = ky + 18;
    for (let i = 0; i < 3; i++) {
      out[kx + 6 * i + 4] += zx[i];
      out[ky + 6 * i + 3] -= zy[i];
      out[kxy + 6 * i + 4] += zy[i];
      out[kxy + 6 * i + 3] -= zx[i];
    }
    for (let k = 0; k < 3; k++) {
      const i = from[k];
      const j = to[k];
      const length = Math.hypot(x[j] - x[i], y[j] - y[i]);
      const co = (x[j] - x[i]) / length;
      const si = (y[j] - y[i]) / length;
      for (let r = 0; r < 5; r++) {
        // strain per unit e_k, through all three bulges
        let v = r < 3 ? 0 : unit[(p * 3 + k) * 5 + r];
        for (let q = 0; q < 3; q++) v += (r < 3 ? 1 : 2 / 3) * unit[(p * 3 + q) * 5 + r] * bulge[3 * q + k];
        const a = kx + 18 * r + 6 * i + 2;
        const b = kx + 18 * r + 6 * j + 2;
        out[a] -= v / length;
        out[b] += v / length;
        out[a + 1] -= 0.5 * si * v;
        out[b + 1] -= 0.5 * si * v;
        out[a + 2] += 0.5 * co * v;
        out[b + 2] += 0.5 * co * v;
      }
    }
  }
}

/** Curvatures of unit bulges less their mean, and shear vectors of unit side shears, at the mid-side points. */
function unitStrains(
  x: Float64Array,
  y: Float64Array,
  zx: readonly [number, number, number],
  zy: readonly [number, number, number],
  unit: Float64Array,
): void {
  for (let k = 0; k < 3; k++) {
    const i = from[k];
    const j = to[k];
    const before = (k + 2) % 3;
    const after = (k + 1) % 3;
    const dx = x[j] - x[i];
    const dy = y[j] - y[i];
    const length = Math.hypot(dx, dy);
    const co = dx / length;
    const si = dy / length;
    // unit shear along side k and none along the side it meets at the corner
    const bx = x[to[before]] - x[from[before]];
    const by = y[to[before]] - y[from[before]];
    const ax = x[to[after]] - x[from[after]];
    const ay = y[to[after]] - y[from[after]];
    const atI = co * by - si * bx;
    const atJ = co * ay - si * ax;
    for (let p = 0; p < 3; p++) {
      const zi = i === from[p] || i === to[p] ? 0.5 : 0;
      const zj = j === from[p] || j === to[p] ? 0.5 : 0;
      const px = 4 * (zx[i] * zj + zi * zx[j]);
      const py = 4 * (zy[i] * zj + zi * zy[j]);
      const u = (p * 3 + k) * 5;
      unit[u] = co * px;
      unit[u + 1] = si * py;
      unit[u + 2] = co * py + si * px;
      unit[u + 3] = (zi * by) / atI + (zj * ay) / atJ;
      unit[u + 4] = (-zi * bx) / atI - (zj * ax) / atJ;
    }
    for (let r = 0; r < 3; r++) {
      const mean = (unit[5 * k + r] + unit[15 + 5 * k + r] + unit[30 + 5 * k + r]) / 3;
      for (let p = 0; p < 3; p++) unit[(p * 3 + k) * 5 + r] -= mean;
    }
  }
}

/** Fills s.bulge = -(Kb + 4/9 Ks)^-1 2/3 Ks (the common weight A/3 of the points cancels). */
function condense(c: Float64Array, s: BendingScratch): void {
  const { unit, bending: a, shear: b, bulge } = s;
  a.fill(0);
  b.fill(0);
  for (let p = 0; p < 3; p++) {
    for (let k = 0; k < 3; k++) {
      const u = (p * 3 + k) * 5;
      const mx = c[27] * unit[u] + c[28] * unit[u + 1] + c[29] * unit[u + 2];
      const my = c[35] * unit[u] + c[36] * unit[u + 1] + c[37] * unit[u + 2];
      const mxy = c[43] * unit[u] + c[44] * unit[u + 1] + c[45] * unit[u + 2];
      const qx = c[54] * unit[u + 3] + c[55] * unit[u + 4];
      const qy = c[62] * unit[u + 3] + c[63] * unit[u + 4];
      for (let m = 0; m < 3; m++) {
        const v = (p * 3 + m) * 5;
        a[3 * k + m] += mx * unit[v] + my * unit[v + 1] + mxy * unit[v + 2];
        b[3 * k + m] += qx * unit[v + 3] + qy * unit[v + 4];
      }
    }
  }
  for (let k = 0; k < 9; k++) a[k] += (4 / 9) * b[k];
  // inverse of the symmetric 3 x 3 by cofactors
  const c00 = a[4] * a[8] - a[5] * a[5];
  const c01 = a[2] * a[5] - a[1] * a[8];
  const c02 = a[1] * a[5] - a[2] * a[4];
  const c11 = a[0] * a[8] - a[2] * a[2];
  const c12 = a[1] * a[2] - a[0] * a[5];
  const c22 = a[0] * a[4] - a[1] * a[1];
  const f = -2 / 3 / (a[0] * c00 + a[1] * c01 + a[2] * c02);
  for (let m = 0; m < 3; m++) {
    bulge[m] = f * (c00 * b[m] + c01 * b[3 + m] + c02 * b[6 + m]);
    bulge[3 + m] = f * (c01 * b[m] + c11 * b[3 + m] + c12 * b[6 + m]);
    bulge[6 + m] = f * (c02 * b[m] + c12 * b[3 + m] + c22 * b[6 + m]);
  }
}
