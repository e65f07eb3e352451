import type { BendingStrains } from "./bendingStrains.ts";
import type { MembraneStrains } from "./membraneStrains.ts";

/**
 * A laminate's energy over one triangle in the element's own strains: with the mean strains s = (e, k) and the inner
 * ones t = (th, e) of membraneStrains.ts and bendingStrains.ts, the others' integrals being zero,
 *   2 U = area s' [A B; B D] s + t' [Htt Hte; Hte' Hee] t.
 */
export interface ElementForm {
  /** 3 x 3 blocks row by row: area A, Htt. */ readonly membrane: Float64Array;
  /** area B, Hte. */ readonly coupling: Float64Array;
  /** area D, Hee. */ readonly bending: Float64Array;
  /** False if B is zero: membrane and bending do not couple. */ coupled: boolean;
  /** Bending of the bulges and stiffness of the side shears, 3 x 3 each. */
  readonly sides: Float64Array;
}

export function elementFormMemory(): ElementForm {
  const block = (): Float64Array => new Float64Array(18);
  return { membrane: block(), coupling: block(), bending: block(), coupled: false, sides: block() };
}

/**
 * Fills `out` (in place) for the 8 x 8 laminate matrix `c`. `condense`: this laminate's energy decides the bulges and
 * they are written to `b.bulge`; else (a loss laminate) they are taken as they are.
 */
export function elementForm(
  c: Float64Array,
  area: number,
  m: MembraneStrains,
  b: BendingStrains,
  condense: boolean,
  out: ElementForm,
): void {
  const { membrane, coupling, bending, sides } = out;
  const w = area / 3;
  out.coupled = false;
  for (let r = 0; r < 3; r++) {
    for (let s = 0; s < 3; s++) {
      membrane[3 * r + s] = area * c[8 * r + s];
      const cross = c[8 * r + s + 3];
      coupling[3 * r + s] = area * cross;
      if (cross !== 0) out.coupled = true;
      bending[3 * r + s] = area * c[8 * (r + 3) + s + 3];
    }
  }
  pointForms(m.high, m.high, c, 0, w, membrane);
  sideEnergies(c, w, b, sides);
  if (condense) condensation(sides, b.bulge);
  bulgeForm(sides, b.bulge, bending);
  if (out.coupled) {
    pointForms(m.high, b.high, c, 3, w, coupling);
    rightMultiply(coupling, b.bulge);
  }
}

/** out[9 + 3 k + l] = w sum over points of f_k' C g_l, C the 3 x 3 block of c at rows 0 and column `column`. */
function pointForms(
  f: Float64Array,
  g: Float64Array,
  c: Float64Array,
  column: number,
  w: number,
  out: Float64Array,
): void {
  const c00 = w * c[column];
  const c01 = w * c[column + 1];
  const c02 = w * c[column + 2];
  const c10 = w * c[column + 8];
  const c11 = w * c[column + 9];
  const c12 = w * c[column + 10];
  const c20 = w * c[column + 16];
  const c21 = w * c[column + 17];
  const c22 = w * c[column + 18];
  for (let k = 9; k < 18; k++) out[k] = 0;
  for (let p = 0; p < 27; p += 9) {
    for (let l = 0; l < 3; l++) {
      const at = p + 3 * l;
      const n0 = c00 * g[at] + c01 * g[at + 1] + c02 * g[at + 2];
      const n1 = c10 * g[at] + c11 * g[at + 1] + c12 * g[at + 2];
      const n2 = c20 * g[at] + c21 * g[at + 1] + c22 * g[at + 2];
      out[9 + l] += f[p] * n0 + f[p + 1] * n1 + f[p + 2] * n2;
      out[12 + l] += f[p + 3] * n0 + f[p + 4] * n1 + f[p + 5] * n2;
      out[15 + l] += f[p + 6] * n0 + f[p + 7] * n1 + f[p + 8] * n2;
    }
  }
}

/** Bending of unit bulges, and energy of unit side shears, 3 x 3 each, times the weight of a point. */
function sideEnergies(c: Float64Array, w: number, b: BendingStrains, out: Float64Array): void {
  const { high, edge } = b;
  const d00 = w * c[27];
  const d01 = w * c[28];
  const d02 = w * c[29];
  const d11 = w * c[36];
  const d12 = w * c[37];
  const d22 = w * c[45];
  const s00 = w * c[54];
  const s01 = w * c[55];
  const s11 = w * c[63];
  out.fill(0);
  for (let p = 0; p < 3; p++) {
    for (let k = 0; k < 3; k++) {
      const u = 9 * p + 3 * k;
      const m0 = d00 * high[u] + d01 * high[u + 1] + d02 * high[u + 2];
      const m1 = d01 * high[u] + d11 * high[u + 1] + d12 * high[u + 2];
      const m2 = d02 * high[u] + d12 * high[u + 1] + d22 * high[u + 2];
      const e = 6 * p + 2 * k;
      const q0 = s00 * edge[e] + s01 * edge[e + 1];
      const q1 = s01 * edge[e] + s11 * edge[e + 1];
      for (let l = 0; l <= k; l++) {
        const v = 9 * p + 3 * l;
        const f = 6 * p + 2 * l;
        out[3 * k + l] += m0 * high[v] + m1 * high[v + 1] + m2 * high[v + 2];
        out[9 + 3 * k + l] += q0 * edge[f] + q1 * edge[f + 1];
      }
    }
  }
  for (let k = 0; k < 18; k += 9) {
    out[k + 1] = out[k + 3];
    out[k + 2] = out[k + 6];
    out[k + 5] = out[k + 7];
  }
}

/** Fills bulge = -(Kb + 4/9 Ks)^-1 2/3 Ks. */
function condensation(sides: Float64Array, bulge: Float64Array): void {
  const t = 4 / 9;
  const a00 = sides[0] + t * sides[9];
  const a01 = sides[1] + t * sides[10];
  const a02 = sides[2] + t * sides[11];
  const a11 = sides[4] + t * sides[13];
  const a12 = sides[5] + t * sides[14];
  const a22 = sides[8] + t * sides[17];
  // inverse of the symmetric 3 x 3 by cofactors
  const c00 = a11 * a22 - a12 * a12;
  const c01 = a02 * a12 - a01 * a22;
  const c02 = a01 * a12 - a02 * a11;
  const c11 = a00 * a22 - a02 * a02;
  const c12 = a01 * a02 - a00 * a12;
  const c22 = a00 * a11 - a01 * a01;
  const f = -2 / 3 / (a00 * c00 + a01 * c01 + a02 * c02);
  for (let m = 0; m < 3; m++) {
    const s0 = f * sides[9 + m];
    const s1 = f * sides[12 + m];
    const s2 = f * sides[15 + m];
    bulge[m] = c00 * s0 + c01 * s1 + c02 * s2;
    bulge[3 + m] = c01 * s0 + c11 * s1 + c12 * s2;
    bulge[6 + m] = c02 * s0 + c12 * s1 + c22 * s2;
  }
}

/** out[9..17] = X' Kb X + Y' Ks Y, Y = 1 + 2/3 X; as a sum of squares it does not cancel in thin plates. */
function bulgeForm(sides: Float64Array, x: Float64Array, out: Float64Array): void {
  const t = 2 / 3;
  for (let l = 0; l < 3; l++) {
    const x0 = x[l];
    const x1 = x[3 + l];
    const x2 = x[6 + l];
    const y0 = t * x0 + (l === 0 ? 1 : 0);
    const y1 = t * x1 + (l === 1 ? 1 : 0);
    const y2 = t * x2 + (l === 2 ? 1 : 0);
    const m0 = sides[0] * x0 + sides[1] * x1 + sides[2] * x2;
    const m1 = sides[3] * x0 + sides[4] * x1 + sides[5] * x2;
    const m2 = sides[6] * x0 + sides[7] * x1 + sides[8] * x2;
    const q0 = sides[9] * y0 + sides[10] * y1 + sides[11] * y2;
    const q1 = sides[12] * y0 + sides[13] * y1 + sides[14] * y2;
    const q2 = sides[15] * y0 + sides[16] * y1 + sides[17] * y2;
    const f0 = m0 + t * q0;
    const f1 = m1 + t * q1;
    const f2 = m2 + t * q2;
    out[9 + l] = x[0] * f0 + x[3] * f1 + x[6] * f2 + q0;
    out[12 + l] = x[1] * f0 + x[4] * f1 + x[7] * f2 + q1;
    out[15 + l] = x[2] * f0 + x[5] * f1 + x[8] * f2 + q2;
  }
}

/** The block at 9 times X. */
function rightMultiply(a: Float64Array, x: Float64Array): void {
  for (let r = 9; r < 18; r += 3) {
    const a0 = a[r];
    const a1 = a[r + 1];
    const a2 = a[r + 2];
    a[r] = a0 * x[0] + a1 * x[3] + a2 * x[6];
    a[r + 1] = a0 * x[1] + a1 * x[4] + a2 * x[7];
    a[r + 2] = a0 * x[2] + a1 * x[5] + a2 * x[8];
  }
}
