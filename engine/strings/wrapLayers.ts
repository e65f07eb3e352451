import type { WrapLayer } from "./design.ts";
import { wires } from "./materials.data.ts";

/** What close-wound layers add to their core. */
export interface WrapLayers {
  /** kg/m. */
  readonly mass: number;
  /** Of the coil springs that the layers are, N m2 and N. */
  readonly bendingStiffness: number;
  readonly axialStiffness: number;
  /** Of the finished string. */
  readonly diameter: number;
}

const poisson = 0.3;

/**
 * Close-wound layers of round wire around a core that seats them on a circle of diameter `seat`. A layer of wire d on what
 * is D wide is a helix of pitch d whose middle runs on the circle of diameter D + d: per length of string it has a wire
 * length of sqrt((pi (D + d))^2 + d^2)/d. Over a hexagonal core it bulges over the flats and does not follow them: to be
 * pulled straight on a flat against its own plastic moment s d^3/6, a wire wound at a share x of its yield s needs a lever
 * of 0.21 d/x, and the circle stands over the flat by 0.08 of the core only (limit analysis, memory). The hull of the hexagon
 * would be 2 to 3 % shorter.
 *
 * A string's core is strained by 0.3 to 0.6 % at pitch, which draws the turns apart: they touch no more, and each layer
 * is a spring beside the core. With n = d/(pi (D + d)) the length of string per length of wire, I = pi d^4/64:
 *   bending 2 E I n/(2 + nu),   pull G d^4 n pi/(8 (D + d)^2)      (close-coiled helical springs, textbooks, memory)
 */
export function wrapLayers(wraps: readonly WrapLayer[], seat: number): WrapLayers {
  let mass = 0;
  let bendingStiffness = 0;
  let axialStiffness = 0;
  let diameter = seat;
  for (const { diameter: d, material } of wraps) {
    const { density, stiffness } = wires[material];
    const coil = diameter + d;
    const n = d / (Math.PI * coil);
    mass += (density.value * (Math.PI / 4) * d * d * Math.hypot(Math.PI * coil, d)) / d;
    bendingStiffness += (2 * stiffness.value * (Math.PI / 64) * d ** 4 * n) / (2 + poisson);
    axialStiffness += ((stiffness.value / (2 * (1 + poisson))) * d ** 4 * n * Math.PI) / (8 * coil * coil);
    diameter += 2 * d;
  }
  return { mass, bendingStiffness, axialStiffness, diameter };
}
