/**
 * Deflection of the shell triangle in its own axes: linear + on each side z_i z_j (a + b (z_i - z_j)) with
 *   a = (X, Y).(beta_j - beta_i)/2,   b = 2/3 d   (d the side's bulge, bendingStrains.ts),
 * which along the sides is the deflection whose slope is side shear less rotation (cubic), i.e. the BCIZ cubic where
 * the shear vanishes. Quadratics exact.
 *
 * Its nine functions are z1 z2 z3, z1z2 z2z3 z3z1, z1z2(z1-z2) z2z3(z2-z3) z3z1(z3-z1).
 */

/** Places of w, rx, ry by corner among ux uy uz rx ry rz. */
export const deflectionPlace = Int32Array.of(2, 3, 4, 8, 9, 10, 14, 15, 16);

/** Fills `t`: the nine coefficients by motion (w, rx, ry by corner), 9 by motion. `x`, `y`: corners, m. */
export function deflections(x: Float64Array, y: Float64Array, bulge: Float64Array, t: Float64Array): void {
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

/** Scratch of `deflectionForm`: gram times coefficients. */
export interface DeflectionScratch {
  readonly coefficients: Float64Array;
  readonly products: Float64Array;
}

export function deflectionMemory(): DeflectionScratch {
  return { coefficients: new Float64Array(81), products: new Float64Array(81) };
}

/**
 * Writes scale x (quadratic form `gram` of the nine functions) over the motions w, rx, ry at their places in `out`
 * (18 x 18 row by row), both triangles. `s.coefficients` as `deflections` left them.
 */
export function deflectionForm(
  gram: Float64Array,
  scale: number,
  s: DeflectionScratch,
  out: Float64Array,
): void {
  const { coefficients: t, products } = s;
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
  for (let i = 0; i < 9; i++) {
    const at = 9 * i;
    const t3 = t[at + 3];
    const t4 = t[at + 4];
    const t5 = t[at + 5];
    const t6 = t[at + 6];
    const t7 = t[at + 7];
    const t8 = t[at + 8];
    const own = i === 0 ? 0 : i === 3 ? 1 : i === 6 ? 2 : -1;
    const row = deflectionPlace[i];
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
      const column = deflectionPlace[j];
      out[18 * row + column] = out[18 * column + row] = scale * sum;
    }
  }
}

/** Exponents of z1, z2, z3 and a factor. */
type Term = readonly [factor: number, z1: number, z2: number, z3: number];

/** The nine functions as polynomials in the area coordinates. */
export function deflectionPolynomials(): readonly (readonly Term[])[] {
  const product = (...at: number[]): [number, number, number] =>
    [0, 1, 2].map((k) => at.filter((i) => i === k).length) as [number, number, number];
  const functions: Term[][] = [];
  for (let i = 0; i < 3; i++) functions.push([[1, ...product(i)]]);
  for (let i = 0; i < 3; i++) functions.push([[1, ...product(i, (i + 1) % 3)]]);
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3;
    functions.push([
      [1, ...product(i, i, j)],
      [-1, ...product(i, j, j)],
    ]);
  }
  return functions;
}

/** Derivative of a polynomial in the area coordinates by coordinate k. */
export function derivative(f: readonly Term[], k: number): Term[] {
  return f.flatMap((term) => {
    const power = term[1 + k];
    if (power === 0) return [];
    const lower: [number, number, number, number] = [term[0] * power, term[1], term[2], term[3]];
    lower[1 + k] -= 1;
    return [lower];
  });
}

/** Mean over the triangle of the product of two polynomials: mean of z1^i z2^j z3^k = 2 i! j! k! / (i+j+k+2)!. */
export function meanProduct(f: readonly Term[], g: readonly Term[]): number {
  const factorial = [1, 1, 2, 6, 24, 120, 720, 5040, 40320];
  let sum = 0;
  for (const [a, ...p] of f) {
    for (const [b, ...q] of g) {
      const e = [p[0] + q[0], p[1] + q[1], p[2] + q[2]] as const;
      sum +=
        (a * b * 2 * factorial[e[0]] * factorial[e[1]] * factorial[e[2]]) / factorial[e[0] + e[1] + e[2] + 2];
    }
  }
  return sum;
}
