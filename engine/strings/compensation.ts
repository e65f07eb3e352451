import type { StringDesign } from "./design.ts";
import { tension } from "./tension.ts";

/** Geometry of fretting for one string, m. Heights are over the plane of the fret crowns (no relief). */
export interface FrettingGeometry {
  /** Theoretical nut to theoretical saddle along the string. */
  readonly scaleLength: number;
  /** Nut to fret along the string; index 0 is the nut. */
  readonly fretDistance: Float64Array;
  /** Height of the open string over the crown of fret 12. */
  readonly action: number;
  /** Height of the open string at the nut. */
  readonly nutHeight: number;
  /** How far the finger bends the string below the crowns, halfway to the fret before; 0 is the lightest touch. */
  readonly pressDepth?: number;
  /** How the ends hold the string's slope; default "continuing". */
  readonly ends?: StringEnds;
}

/**
 * "clamped": the slope is held, as VARIESCHI has it; "continuing": the string runs on over the crown under the same
 * tension, as it does at nut, fret and saddle.
 */
export type StringEnds = "clamped" | "continuing";

export interface Compensation {
  /** Lengthens the string at the saddle, m. */
  readonly saddleOffset: number;
  /** Shortens the string at the nut, m. */
  readonly nutOffset: number;
  /** What remains, cents by fret (1 .. last): positive is sharp. The open string is tuned true. */
  readonly errorCents: Float64Array;
  readonly rmsCents: number;
}

/**
 * Saddle offset that makes the rms error over all frets least, for a given nut offset.
 *
 * Perturbation model of VARIESCHI (from memory; its tables were not obtained). Pressing a string down lengthens it:
 *   T_i = T_0 + EA (l_fretted - l_open)/l_open,      paths straight between nut, (finger,) fret and saddle
 * and the pitch of the part of length L from fret to saddle is that of a stiff string (Morse's expansion; published with
 * c = 1, clamped ends):
 *   f = (1/2L) sqrt(T/mu) [1 + 2 c e/L + (4 c^2 + pi^2/2)(e/L)^2],   e = sqrt(EI/T)
 * c is the share of e by which an end shortens the string. Near an end w = s (x - c e) + s c e exp(-x/e); a string that
 * runs on behind the crown resists the slope there with the moment sqrt(EI T) a radian, just what the sounding side
 * itself offers, and EI w'' = sqrt(EI T) w' gives c = 1/2 (derived here). With it the offsets fall within trade ranges;
 * clamped ends ask for about a third more than makers use (see the proof).
 * Valid for small heights (height/length < 0.01) and e/L < 0.02. Left out: relief, slip over nut and saddle, the yielding
 * of bridge and neck, and finger force, which is worth 2 to 5 cents (common practice): whole cents are what it can claim.
 */
export function compensation(
  design: StringDesign,
  openFrequency: number,
  geometry: FrettingGeometry,
  nutOffset = 0,
): Compensation {
  const frets = geometry.fretDistance.length - 1;
  const errors = (saddleOffset: number) =>
    frettedErrors(design, openFrequency, geometry, saddleOffset, nutOffset);
  const step = 1e-5 * geometry.scaleLength;
  let offset = 0;
  // Gauss-Newton on a nearly linear problem: each step gains three digits
  for (let i = 0; i < 6; i++) {
    const here = errors(offset);
    const there = errors(offset + step);
    let slopeError = 0;
    let slopeSquare = 0;
    for (let f = 0; f < frets; f++) {
      const slope = (there[f]! - here[f]!) / step;
      slopeError += slope * here[f]!;
      slopeSquare += slope * slope;
    }
    offset -= slopeError / slopeSquare;
  }
  const errorCents = errors(offset);
  const rmsCents = Math.sqrt(errorCents.reduce((sum, e) => sum + e * e, 0) / frets);
  return { saddleOffset: offset, nutOffset, errorCents, rmsCents };
}

/**
 * Error of each fretted note against the tempered scale counted from the true open string, cents by fret (1 .. last).
 * Model and validity as for `compensation`.
 */
export function frettedErrors(
  design: StringDesign,
  openFrequency: number,
  g: FrettingGeometry,
  saddleOffset: number,
  nutOffset: number,
): Float64Array {
  const frets = g.fretDistance.length - 1;
  const held = g.ends === "clamped" ? 1 : 0.5;
  const open = g.scaleLength + saddleOffset - nutOffset;
  // the player tunes the open string by ear: its tension is that which sounds true with its stiffness
  let pull = tension(design.linearDensity, open, openFrequency);
  for (let i = 0; i < 4; i++)
    pull = tension(design.linearDensity, open, openFrequency) / stiffening(design, pull, open, held) ** 2;
  const fret12 = g.scaleLength / 2;
  const saddleHeight = g.nutHeight + ((g.action - g.nutHeight) * (open + nutOffset)) / fret12;
  const straight = Math.hypot(open, saddleHeight - g.nutHeight);
  const press = g.pressDepth ?? 0;
  const errors = new Float64Array(frets);
  for (let f = 1; f <= frets; f++) {
    const fromNut = g.fretDistance[f]! - nutOffset;
    const sounding = open - fromNut;
    const gap = (g.fretDistance[f]! - g.fretDistance[f - 1]!) / 2;
    const behind =
      press === 0
        ? Math.hypot(fromNut, g.nutHeight)
        : Math.hypot(fromNut - gap, g.nutHeight + press) + Math.hypot(gap, press);
    const stretch = (behind + Math.hypot(sounding, saddleHeight) - straight) / straight;
    const fretted = pull + design.axialStiffness * stretch;
    const frequency =
      (Math.sqrt(fretted / design.linearDensity) / (2 * sounding)) *
      stiffening(design, fretted, sounding, held);
    const wanted = g.scaleLength / (g.scaleLength - g.fretDistance[f]!);
    errors[f - 1] = 1200 * Math.log2(frequency / (openFrequency * wanted));
  }
  return errors;
}

/** Factor by which stiffness raises the first partial; `held` is the c of `compensation`. */
function stiffening(design: StringDesign, pull: number, length: number, held: number): number {
  const e = Math.sqrt(design.bendingStiffness / pull) / length;
  return 1 + 2 * held * e + (4 * held * held + Math.PI ** 2 / 2) * e * e;
}
