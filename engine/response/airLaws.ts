import { type Complex, complexDivide, complexMultiply, complexScale, complexSqrt } from "#engine/numerics";
import type { AirLaws } from "./coupledSystem.ts";

/** Coefficients of b b' and e e' in the coupled equations at a complex frequency, and their parts. */
export interface AirTerms {
  /** (kappa(w) - kappa0) + i w Rr(w): of b b'. */
  readonly whole: Complex;
  /** i w R(w): of e e'. */
  readonly hole: Complex;
  /** The cavity's and the radiation's part of `whole` apart. */
  readonly cavity: Complex;
  readonly radiation: Complex;
}

/**
 * The frequency-dependent air at w (rad/s; Re w > 0, Im w >= 0 for a decaying mode):
 *   kappa(w) = kappa0 / (1 + kappa0 G/(i w) + (1 - i) h w^-1/2)   leak G; heat exchanged with the wall in a thin layer
 *   R(w) = viscous sqrt(w),   Rr(w) = rho w^2/(4 pi c)            small source in free space
 * Sources: closed form; thermal layer from memory of Kirchhoff's theory, first order in the layer's thickness.
 */
export function airTerms(air: AirLaws, w: Complex): AirTerms {
  const root = complexSqrt(w);
  const leak = complexDivide({ re: air.stiffness * air.leak, im: 0 }, { re: -w.im, im: w.re });
  const heat = complexDivide({ re: air.wallHeat, im: -air.wallHeat }, root);
  const softened = complexDivide(
    { re: air.stiffness, im: 0 },
    { re: 1 + leak.re + heat.re, im: leak.im + heat.im },
  );
  const cavity = { re: softened.re - air.stiffness, im: softened.im };
  const cube = complexMultiply(w, complexMultiply(w, w));
  const radiation = complexScale({ re: -cube.im, im: cube.re }, air.radiation);
  const threeHalves = complexMultiply(w, root);
  return {
    whole: { re: cavity.re + radiation.re, im: cavity.im + radiation.im },
    hole: complexScale({ re: -threeHalves.im, im: threeHalves.re }, air.viscous),
    cavity,
    radiation,
  };
}
