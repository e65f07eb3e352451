/**
 * Curvatures and transverse shear of a discrete-shear triangle (DKMT): thin-plate (DKT) limit, no shear locking.
 *
 *        3           sides 1-2, 2-3, 3-1 with direction (C, S) and length L; 9 motions w, rx, ry by corner.
 *      /   \         beta_x = ry, beta_y = -rx (u = z beta); beta = sum z_i beta_i + sum 4 z_i z_j (C, S) d_k
 *    1 ----- 2
 *
 * On each side the tangential rotation is quadratic with bulge d and the shear is constant,
 *   d = -(3/2) / (1 + phi) [ (wj - wi)/L + (beta_si + beta_sj)/2 ],   g_s = -(2/3) phi d,
 * where phi = 12 D / (S L2) is the ratio of bending to shear stiffness along the side. The side shears give a shear
 * vector at each corner, linear between. Constant curvature is reproduced exactly for any phi.
 * For wood phi is taken along the side's direction n as 12/L2 n' S^-1 (D:nn) n, so that Q = div M holds for bending
 * that varies along that side. Source: I. Katili, Int. J. Numer. Meth. Engng 36, 1859-1883 (1993), from memory; the
 * orthotropic phi is ours.
 */
const from = [0, 1, 2] as const;
const to = [1, 2, 0] as const;

/**
 * phi of the three sides. `c`: 8 x 8 laminate matrix in the same axes (laminate.ts). Bending stiffness is the one with
 * the membrane free, D - B2/A along the side.
 */
export function sideShearRatios(x: Float64Array, y: Float64Array, c: Float64Array, out: Float64Array): void {
  const s11 = c[54];
  const s12 = c[55];
  const s22 = c[63];
  const det = s11 * s22 - s12 * s12;
  for (let k = 0; k < 3; k++) {
    const dx = x[to[k]] - x[from[k]];
    const dy = y[to[k]] - y[from[k]];
    const l2 = dx * dx + dy * dy;
    const n0 = (dx * dx) / l2;
    const n1 = (dy * dy) / l2;
    const n2 = (2 * dx * dy) / l2; // engineering twist of nn is 2 C S
    const along = (o: number): number =>
      n0 * (c[o] * n0 + c[o + 1] * n1 + c[o + 2] * n2) +
      n1 * (c[o + 8] * n0 + c[o + 9] * n1 + c[o + 10] * n2) +
      n2 * (c[o + 16] * n0 + c[o + 17] * n1 + c[o + 18] * n2);
    const a = along(0);
    const b = along(3);
    const d = along(27);
    const mx = c[27] * n0 + c[28] * n1 + c[29] * n2;
    const my = c[35] * n0 + c[36] * n1 + c[37] * n2;
    const mxy = c[43] * n0 + c[44] * n1 + c[45] * n2;
    // l2 n' S^-1 M n
    const qx = mx * dx + mxy * dy;
    const qy = mxy * dx + my * dy;
    const g = (dx * (s22 * qx - s12 * qy) + dy * (s11 * qy - s12 * qx)) / det;
    out[k] = (12 * g * (1 - (b * b) / (a * d))) / (l2 * l2);
  }
}

/** Writes the bending (kx, ky, kxy) and shear (gxz, gyz) rows into `out`, laid out as in membraneStrains. */
export function bendingStrains(x: Float64Array, y: Float64Array, phi: Float64Array, out: Float64Array): void {
  const area2 = (x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]);
  const zx = [(y[1] - y[2]) / area2, (y[2] - y[0]) / area2, (y[0] - y[1]) / area2] as const;
  const zy = [(x[2] - x[1]) / area2, (x[0] - x[2]) / area2, (x[1] - x[0]) / area2] as const;
  const cs = [0, 0, 0];
  const sn = [0, 0, 0];
  const length = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const dx = x[to[k]] - x[from[k]];
    const dy = y[to[k]] - y[from[k]];
    length[k] = Math.hypot(dx, dy);
    cs[k] = dx / length[k];
    sn[k] = dy / length[k];
  }
  for (let p = 0; p < 3; p++) {
    const z = [0, 0, 0];
    z[from[p]] = 0.5;
    z[to[p]] = 0.5;
    const row = p * 8 * 18;
    const kx = row + 3 * 18;
    const ky = row + 4 * 18;
    const kxy = row + 5 * 18;
    const gx = row + 6 * 18;
    const gy = row + 7 * 18;
    out.fill(0, kx, row + 8 * 18);
    for (let i = 0; i < 3; i++) {
      out[kx + 6 * i + 4] += zx[i];
      out[ky + 6 * i + 3] -= zy[i];
      out[kxy + 6 * i + 4] += zy[i];
      out[kxy + 6 * i + 3] -= zx[i];
    }
    for (let k = 0; k < 3; k++) {
      const i = from[k];
      const j = to[k];
      const c = cs[k];
      const s = sn[k];
      const px = 4 * (zx[i] * z[j] + z[i] * zx[j]);
      const py = 4 * (zy[i] * z[j] + z[i] * zy[j]);
      // shear vector per unit side shear: at corner i it meets the side before k, at corner j the side after k
      const before = (k + 2) % 3;
      const after = (k + 1) % 3;
      const detI = c * sn[before] - s * cs[before];
      const detJ = c * sn[after] - s * cs[after];
      const vx = (z[i] * sn[before]) / detI + (z[j] * sn[after]) / detJ;
      const vy = -(z[i] * cs[before]) / detI - (z[j] * cs[after]) / detJ;
      const bulge = -1.5 / (1 + phi[k]);
      const shear = (-2 / 3) * phi[k] * bulge;
      const rx = c * px * bulge;
      const ry = s * py * bulge;
      const rxy = (c * py + s * px) * bulge;
      const hx = vx * shear;
      const hy = vy * shear;
      for (let end = 0; end < 2; end++) {
        const node = 6 * (end === 0 ? i : j);
        const dw = (end === 0 ? -1 : 1) / length[k];
        for (let m = 2; m < 5; m++) {
          // d of w, rx, ry at this end: (wj - wi)/L + (C ry - S rx)/2
          const d = m === 2 ? dw : m === 3 ? -0.5 * s : 0.5 * c;
          out[kx + node + m] += rx * d;
          out[ky + node + m] += ry * d;
          out[kxy + node + m] += rxy * d;
          out[gx + node + m] += hx * d;
          out[gy + node + m] += hy * d;
        }
      }
    }
  }
}
