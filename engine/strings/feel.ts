import type { StringDesign } from "./design.ts";

/** Where a player feels a string: place from the saddle and how far aside it is drawn, m. */
export interface Touch {
  readonly place: number;
  readonly displacement: number;
}

/**
 * Feel of a string under the plucking finger: sideways force over displacement y, N/m,
 *   F/y = (T + EA y^2 c/(2 L)) c,   c = 1/a + 1/(L - a),
 * a from the saddle to the finger (a place beyond the middle counts as the middle). The second term is the stretch of the drawn string (its length grows by y^2 c/2), held
 * at nut and saddle. For y well under a; the bending stiffness, a few thousandths of it, is left out. Derived from the
 * triangle that the string makes.
 */
export function feel(
  design: Pick<StringDesign, "axialStiffness">,
  tensionOfString: number,
  length: number,
  { place, displacement }: Touch,
): number {
  const a = Math.min(place, length / 2);
  const c = 1 / a + 1 / (length - a);
  return (tensionOfString + (design.axialStiffness * displacement ** 2 * c) / (2 * length)) * c;
}
