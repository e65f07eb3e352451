import {
  type DeflectionScratch,
  deflectionForm,
  deflectionMemory,
  deflectionPolynomials,
  deflections,
  derivative,
  meanProduct,
} from "./deflection.ts";
import type { TriangleScratch } from "./shellTriangle.ts";
import { turnBlocks } from "./turnBlocks.ts";

/** Memory for one element. */
export interface GeometricScratch extends DeflectionScratch {
  /** 9 x 9 each: means of the products of the functions' derivatives by area coordinates 1 and 2 (11, 12 + 21, 22). */
  readonly slopes: readonly [Float64Array, Float64Array, Float64Array];
  readonly gram: Float64Array;
}

export function emptyTriangleGeometric(): GeometricScratch {
  const f = deflectionPolynomials();
  // z3 = 1 - z1 - z2: derivatives by z1 and z2 less that by z3
  const by = [0, 1].map((k) =>
    f.map((g) => [...derivative(g, k), ...derivative(g, 2).map(([a, ...p]) => [-a, ...p] as const)]),
  );
  const form = (entry: (r: number, c: number) => number): Float64Array =>
    Float64Array.from({ length: 81 }, (_, k) => entry(Math.floor(k / 9), k % 9));
  return {
    ...deflectionMemory(),
    slopes: [
      form((r, c) => meanProduct(by[0][r], by[0][c])),
      form((r, c) => meanProduct(by[0][r], by[1][c]) + meanProduct(by[1][r], by[0][c])),
      form((r, c) => meanProduct(by[1][r], by[1][c])),
    ],
    gram: new Float64Array(81),
  };
}

/**
 * Geometric stiffness of the triangle under even membrane forces N (N/m, tension positive, in its own axes): fills
 * `out` (18 x 18 row by row, in the frame of the corners) with
 *   int N_ab (u,a u,b + v,a v,b + w,a w,b) dA,
 * the second-order work of the forces in all three motions, so that a turn of the whole loaded body costs nothing:
 * w as in the mass (deflection.ts), u and v linear. Bending moments are left out, as is usual.
 * `s` holds the triangle (`triangleStrains`), its bulges included. Green's strain, any text on shells.
 */
export function triangleGeometric(
  force: ArrayLike<number>,
  at: number,
  area: number,
  s: TriangleScratch,
  g: GeometricScratch,
  out: Float64Array,
): void {
  const { x, y } = s;
  const nx = force[at];
  const ny = force[at + 1];
  const nxy = force[at + 2];
  const q = 1 / (2 * area);
  const ax = Float64Array.of(q * (y[1] - y[2]), q * (y[2] - y[0]), q * (y[0] - y[1]));
  const ay = Float64Array.of(q * (x[2] - x[1]), q * (x[0] - x[2]), q * (x[1] - x[0]));
  const between = (i: number, j: number): number =>
    nx * ax[i] * ax[j] + ny * ay[i] * ay[j] + nxy * (ax[i] * ay[j] + ay[i] * ax[j]);
  const n11 = between(0, 0);
  const n12 = between(0, 1);
  const n22 = between(1, 1);
  const [s11, s12, s22] = g.slopes;
  for (let k = 0; k < 81; k++) g.gram[k] = n11 * s11[k] + n12 * s12[k] + n22 * s22[k];
  out.fill(0);
  deflections(x, y, s.bending.bulge, g.coefficients);
  deflectionForm(g.gram, area, g, out);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const k = area * between(i, j);
      out[18 * 6 * i + 6 * j] = k;
      out[18 * (6 * i + 1) + 6 * j + 1] = k;
    }
  }
  turnBlocks(out, s.frame);
}
