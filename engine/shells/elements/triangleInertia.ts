/**
 * Consistent mass and normal flow of the shell triangle in its own axes. Deflection: linear + on each side
 * z_i z_j (a + b (z_i - z_j)) with
 *   a = (X, Y).(beta_j - beta_i)/2,   b = 2/3 d   (d the side's bulge, bendingStrains.ts),
 * which along the sides is the deflection whose slope is side shear less rotation (cubic), i.e. the BCIZ cubic where
 * the shear vanishes. Quadratics exact.
 */

/** Memory for one element. */
export interface InertiaScratch {
  /** Coefficients [z1 z2 z3, z1z2 z2z3 z3z1, their antisymmetric cubics] by motion (w, rx, ry by corner): 9 by motion. */
  readonly deflection: Float64Array;
  readonly products: Float64Array;
  /** 9 x 9: integrals of the products of the deflection functions over a triangle of area 1. */
  readonly gram: Float64Array;
}

export function inertiaMemory(): InertiaScratch {
  return { deflection: new Float64Array(81), products: new Float64Array(81), gram: cubicGram() };
}

/**
 * Fills `mass` (18 x 18 row by row) and `flow` (18). `x`, `y`: corners, m; `bulge`: the side bulges by side sums,
 * 3 x 3; `inertia`: integrals of density over z.
 */
export function triangleInertia(
  x: Float64Array,
  y: Float64Array,
  area: number,
  bulge: Float64Array,
  inertia: readonly [number, number, number],
  s: InertiaScratch,
  mass: Float64Array,
  flow: Float64Array,
): void {
  const { deflection: t, products, gram } = s;
  deflections(x, y, bulge, t);
  for (let c = 0; c < 9; c++) {
    const at = 9 * c;
    const t3 = t[at + 3];
    const t4 = t[at + 4];
    const t5 = t[at + 5];
    const t6 = t[at + 6];
    const t7 = t[at + 7];
    const t8 = t[at + 8];
    // of the linear functions only a corner's own w is 1
    const own = c === 0 ? 0 : c === 3 ? 1 : c === 6 ? 2 : -1;
    for (let k = 0; k < 9; k++) {
      const g = 9 * k;
      let sum =
        gram[g + 3] * t3 +
        gram[g + 4] * t4 +
        gram[g + 5] * t5 +
        gram[g + 6] * t6 +
        gram[g + 7] * t7 +
        gram[g + 8] * t8;
      if (own >= 0) sum += gram[g + own];
      products[at + k] = sum;
    }
  }
  const [m0, m1, m2] = inertia;
  const w0 = m0 * area;
  mass.fill(0);
  for (let i = 0; i < 9; i++) {
    const at = 9 * i;
    const t3 = t[at + 3];
    const t4 = t[at + 4];
    const t5 = t[at + 5];
    const t6 = t[at + 6];
    const t7 = t[at + 7];
    const t8 = t[at + 8];
    const own = i === 0 ? 0 : i === 3 ? 1 : i === 6 ? 2 : -1;
    const row = place[i];
    for (let j = 0; j <= i; j++) {
      const p = 9 * j;
      let sum =
        products[p + 3] * t3 +
        products[p + 4] * t4 +
        products[p + 5] * t5 +
        products[p + 6] * t6 +
        products[p + 7] * t7 +
        products[p + 8] * t8;
      if (own >= 0) sum += products[p + own];
      const column = place[j];
      mass[18 * row + column] = mass[18 * column + row] = w0 * sum;
    }
  }
  for (let i = 0; i < 18; i += 6) {
    for (let j = 0; j < 18; j += 6) {
      const g = (area / 12) * (i === j ? 2 : 1);
      mass[18 * i + j] += m0 * g;
      mass[18 * (i + 1) + j + 1] += m0 * g;
      mass[18 * (i + 3) + j + 3] += m2 * g;
      mass[18 * (i + 4) + j + 4] += m2 * g;
      // u with beta_x = ry, v with beta_y = -rx
      mass[18 * i + j + 4] += m1 * g;
      mass[18 * (i + 4) + j] += m1 * g;
      mass[18 * (i + 1) + j + 3] -= m1 * g;
      mass[18 * (i + 3) + j + 1] -= m1 * g;
    }
  }
  flow.fill(0);
  for (let i = 0; i < 9; i++) {
    const at = 9 * i;
    flow[place[i]] =
      (area / 3) * (t[at] + t[at + 1] + t[at + 2]) + (area / 12) * (t[at + 3] + t[at + 4] + t[at + 5]);
  }
}

/** Places of w, rx, ry by corner among ux uy uz rx ry rz. */
const place = Int32Array.of(2, 3, 4, 8, 9, 10, 14, 15, 16);

function deflections(x: Float64Array, y: Float64Array, bulge: Float64Array, t: Float64Array): void {
  t.fill(0);
  for (let i = 0; i < 3; i++) {
    const j = i === 2 ? 0 : i + 1;
    const p = 27 * i;
    const q = 27 * j;
    t[p + i] = 1;
    const dx = (x[j] - x[i]) / 2;
    const dy = (y[j] - y[i]) / 2;
    t[p + 12 + i] = dy;
    t[p + 21 + i] = -dx;
    t[q + 12 + i] = -dy;
    t[q + 21 + i] = dx;
    for (let k = 0; k < 3; k++) {
      // b of side k through the sum of side i, wj - wi + dx (ry_i + ry_j) - dy (rx_i + rx_j) with halved dx, dy
      const f = (2 / 3) * bulge[3 * k + i];
      t[p + 6 + k] -= f;
      t[q + 6 + k] += f;
      t[p + 15 + k] -= dy * f;
      t[q + 15 + k] -= dy * f;
      t[p + 24 + k] += dx * f;
      t[q + 24 + k] += dx * f;
    }
  }
}
/** Gram matrix of the nine deflection functions over a triangle of area 1: int z1^i z2^j z3^k = 2 i! j! k! / (i+j+k+2)!. */
function cubicGram(): Float64Array {
  type Term = readonly [number, number, number, number];
  const functions: Term[][] = [];
  const unit = (i: number): [number, number, number] => [i === 0 ? 1 : 0, i === 1 ? 1 : 0, i === 2 ? 1 : 0];
  const times = (...at: number[]): [number, number, number] =>
    at.map(unit).reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
  for (let i = 0; i < 3; i++) functions.push([[1, ...times(i)]]);
  for (let i = 0; i < 3; i++) functions.push([[1, ...times(i, (i + 1) % 3)]]);
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3;
    functions.push([
      [1, ...times(i, i, j)],
      [-1, ...times(i, j, j)],
    ]);
  }
  const factorial = [1, 1, 2, 6, 24, 120, 720, 5040, 40320];
  const gram = new Float64Array(81);
  functions.forEach((f, r) => {
    functions.forEach((g, c) => {
      for (const [a, ...p] of f) {
        for (const [b, ...q] of g) {
          const e = [p[0] + q[0], p[1] + q[1], p[2] + q[2]] as const;
          gram[9 * r + c] +=
            (a * b * 2 * factorial[e[0]] * factorial[e[1]] * factorial[e[2]]) /
            factorial[e[0] + e[1] + e[2] + 2];
        }
      }
    });
  });
  return gram;
}
