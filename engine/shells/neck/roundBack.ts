import { gaussLegendre } from "#engine/numerics";
import type { SectionLayer } from "./compositeSection.ts";

/** The back of a neck under a flat face: |y / half|^p + (z / under)^p = 1, z downwards. p = 2: half an ellipse; below it a V, above it a U. */
export interface RoundBack {
  readonly half: number;
  readonly under: number;
  readonly exponent: number;
}

const rule = gaussLegendre(40);

/** Depth of the back under the flat face at `aside` from the centreline, m; 0 beyond the edge. */
export function backDepth({ half, under, exponent: p }: RoundBack, aside: number): number {
  const t = Math.abs(aside) / half;
  return t >= 1 ? 0 : under * (1 - t ** p) ** (1 / p);
}

/**
 * The solid back, its flat face `top` under the section's upper face. With I(n) the integral of t^n (1 - t^p)^(1/p) over
 * 0..1: area 2 a b I(0), centre b I(1) / I(0), second moment about the flat face 2 a b3 I(2), sideways 2 a3 b I(2).
 * Gauss points in s, t = 1 - s2: exact to rounding for p = 2, to 1e-5 for p from 1.3 to 4.
 */
export function roundBackLayer(E: number, density: number, back: RoundBack, top: number): SectionLayer {
  const { half: a, under: b, exponent: p } = back;
  const integral = (n: number): number =>
    rule.points.reduce((sum, xi, k) => {
      const s = (1 + xi) / 2;
      const t = 1 - s * s;
      return sum + rule.weights[k] * s * t ** n * (1 - t ** p) ** (1 / p);
    }, 0);
  const [area, first, second] = [integral(0), integral(1), integral(2)];
  const centre = (b * first) / area;
  return {
    EA: E * 2 * a * b * area,
    EIUpright: E * 2 * a * b * (b * b * second - centre * centre * area),
    EISideways: E * 2 * a ** 3 * b * second,
    massPerLength: density * 2 * a * b * area,
    depth: top + centre,
  };
}
