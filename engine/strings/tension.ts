import type { StretchedString, StringDesign } from "./design.ts";

/**
 * Tension that tunes an ideal string to `frequency` (Hz): T = mu (2 L f)^2. N. Left out: the stiffness, which raises the
 * note by a share of B/2, and the stretch to pitch, which makes a string 0.3 to 0.7 % lighter than it lies in its packet.
 */
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

/** A string must hold a semitone sharp of its note: least margin to breaking, by T = 4 m L^2 f^2. */
export const leastMargin = 2 ** (2 / 12);

const slackTension = 25;
const slackShare = 0.08;

/**
 * Tension below which a string hangs slack, N: 25 N, or 8 % of what it breaks at (common practice, no source). Wire breaks
 * at a strain of about 1.2 %; at a twelfth of that the stretch of pressing it to a fret, some 2.5e-5, already pulls it 20
 * cents sharp (1200/ln 2 times a half of stretch over strain).
 */
export function slackLimit(design: StringDesign): number {
  return Math.max(slackTension, slackShare * design.breakingForce);
}

export type StringState = "holds" | "breaks" | "slack";

/** Whether a string of that tension breaks within a semitone, hangs slack, or neither. */
export function stringState(design: StringDesign, tensionOfString: number): StringState {
  if (breakMargin(design, tensionOfString) < leastMargin) return "breaks";
  return tensionOfString < slackLimit(design) ? "slack" : "holds";
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
