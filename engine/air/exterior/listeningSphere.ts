import { farDirections } from "./farDirections.ts";

/**
 * Points on a sphere (x,y,z by point, m) with the areas they stand for (m2): listeners that take up all the power a body
 * sends out, W = sum of area |p|^2 / (2 rho c), when the sphere is many wavelengths and many bodies across.
 * Exact for sound of spherical waves up to `degree`; k times the body's radius + 4 is enough.
 */
export function listeningSphere(
  centre: readonly [number, number, number],
  radius: number,
  degree: number,
): { readonly points: Float64Array; readonly areas: Float64Array } {
  const { place, weight } = farDirections(degree);
  return {
    points: place.map((d, i) => centre[i % 3] + radius * d),
    areas: weight.map((w) => w * radius * radius),
  };
}
