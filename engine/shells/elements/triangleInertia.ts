import {
  type DeflectionScratch,
  deflectionForm,
  deflectionMemory,
  deflectionPlace,
  deflectionPolynomials,
  deflections,
  meanProduct,
} from "./deflection.ts";

/** Memory for one element. */
export interface InertiaScratch extends DeflectionScratch {
  /** 9 x 9: means of the products of the deflection functions. */
  readonly gram: Float64Array;
}

export function inertiaMemory(): InertiaScratch {
  const f = deflectionPolynomials();
  return {
    ...deflectionMemory(),
    gram: Float64Array.from({ length: 81 }, (_, k) => meanProduct(f[Math.floor(k / 9)], f[k % 9])),
  };
}

/**
 * Fills the consistent `mass` (18 x 18 row by row) and the normal `flow` (18) in the element's own axes: w cubic
 * (deflection.ts), the rest linear. `x`, `y`: corners, m; `bulge`: the side bulges by side sums, 3 x 3; `inertia`:
 * integrals of density over z.
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
  const t = s.coefficients;
  deflections(x, y, bulge, t);
  const [m0, m1, m2] = inertia;
  mass.fill(0);
  deflectionForm(s.gram, m0 * area, s, mass);
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
    flow[deflectionPlace[i]] =
      (area / 3) * (t[at] + t[at + 1] + t[at + 2]) + (area / 12) * (t[at + 3] + t[at + 4] + t[at + 5]);
  }
}
