import type { StretchedString, StringDesign } from "./design.ts";

/** Tension that tunes an ideal string to `frequency` (Hz): T = mu (2 L f)^2. N. The stiffness, which raises the note by B/2, is left to the ear. */
export function tension(linearDensity: number, length: number, frequency: number): number {
  return linearDensity * (2 * length * frequency) ** 2;
}

/** Inharmonicity of a stiff string on hinged ends: B = pi^2 EI/(T L^2), f_n = n f0 sqrt(1 + B n^2). Source: FLETCHER-1964. */
export function inharmonicity(bendingStiffness: number, tensionOfString: number, length: number): number {
  return (Math.PI ** 2 * bendingStiffness) / (tensionOfString * length * length);
}

/** Breaking force over tension: 1 breaks. */
export function breakMargin(design: StringDesign, tensionOfString: number): number {
  return design.breakingForce / tensionOfString;
}

/** The design stretched to `frequency` over `tunedLength` and stopped to `length`. */
export function stretched(
  design: StringDesign,
  tunedLength: number,
  frequency: number,
  length: number = tunedLength,
): StretchedString {
  return {
    length,
    linearDensity: design.linearDensity,
    tension: tension(design.linearDensity, tunedLength, frequency),
    bendingStiffness: design.bendingStiffness,
    loss: design.loss,
  };
}
