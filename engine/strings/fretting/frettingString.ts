import { done, failed, type Outcome } from "#engine/numerics";
import type { StringDesign } from "../design.ts";

/**
 * One string over its board, in its own vertical plane. Places run along the string from the theoretical nut line
 * towards the saddle; heights are of the string's underside and of the crowns over any one straight base line. m.
 *
 *   post ---- nut ------------ finger - fret ------------------------- saddle -- pin
 *             0                         fretPlace[f]                   scaleLength
 *
 * The open string is straight from (0, nutHeight) to (scaleLength, saddleHeight). Offsets slide the crowns of nut and
 * saddle along that line, so they leave the action alone. The lengths behind lie in the same line: the bends of a real
 * string over nut and saddle are taken as set for good, and only what fretting adds to them is counted.
 */
export interface FrettingString {
  /** 1 is the highest; names the string in refusals. */
  readonly string: number;
  readonly design: StringDesign;
  /** First partial of the open string as it is tuned, Hz. */
  readonly openFrequency: number;
  readonly scaleLength: number;
  /** By fret; index 0 is the nut line, 0. Where the crown of fret f stands is what its note should be: L/(L - place). */
  readonly fretPlace: Float64Array;
  /** By fret, relief and fall-away included; index 0: where the line of the crowns meets the nut line (no crown there). */
  readonly crownHeight: Float64Array;
  readonly nutHeight: number;
  readonly saddleHeight: number;
  /** Length of string from the nut's crown to its post, and from the saddle's crown to its pin. */
  readonly behindNut: number;
  readonly behindSaddle: number;
  readonly friction: CrownFriction;
  readonly finger: Finger;
}

/**
 * Nut and saddle either let the string slip freely ("none": its whole length from post to pin stretches under one
 * tension) or hold it ("full": only the part between their crowns stretches). Frets and finger never hold it: they
 * push square to the string, and the tension is equal on both their sides.
 */
export type CrownFriction = "none" | "full";

export interface Finger {
  /** Its middle behind the crown: a share of the way back to the fret before, at most so far, m. */
  readonly behind: { readonly kind: "share"; readonly share: number; readonly most: number };
  /** How deep it presses the string there, below the line through the crowns of this fret and the one before, m. */
  readonly depth: number;
}

/** Where nut and saddle really stand, m: the saddle's offset lengthens the string, the nut's shortens it. */
export interface Offsets {
  readonly nut: number;
  readonly saddle: number;
}

export const noOffsets: Offsets = { nut: 0, saddle: 0 };

/** How far behind the crown of `fret` the finger's middle stands, m. */
export function fingerBehind({ finger: { behind }, fretPlace }: FrettingString, fret: number): number {
  return Math.min(behind.most, behind.share * (fretPlace[fret]! - fretPlace[fret - 1]!));
}

/** Height of the open string over the base line at a place, m. */
export function openHeight(s: FrettingString, place: number): number {
  return s.nutHeight + ((s.saddleHeight - s.nutHeight) * place) / s.scaleLength;
}

/** The same string with its saddle as high as gives `action` over the crown of fret 12 (with fewer frets: the last), m. */
export function withAction(s: FrettingString, action: number): FrettingString {
  const fret = Math.min(12, s.fretPlace.length - 1);
  const rise = (s.crownHeight[fret]! + action - s.nutHeight) / s.fretPlace[fret]!;
  return { ...s, saddleHeight: s.nutHeight + rise * s.scaleLength };
}

/** Height of the open string over the crown of each fret 1 .. last (index 0: over the line of the crowns at the nut), m. */
export function openClearance(s: FrettingString): Float64Array {
  return s.fretPlace.map((place, f) => openHeight(s, place) - s.crownHeight[f]!);
}

/**
 * The string as it stands, or why it cannot be: "bad-setup" (lengths, places or mechanics that are none, offsets that
 * put the nut past fret 1 or the saddle before the last) or "open-on-a-fret" (the open string does not clear a crown).
 */
export function checkedString(s: FrettingString, offsets: Offsets): Outcome<FrettingString> {
  const fault = setupFault(s, offsets);
  if (fault !== null) return failed("bad-setup", `string ${s.string}: ${fault}`);
  const clearance = openClearance(s);
  for (let f = 1; f < clearance.length; f++)
    if (!(clearance[f]! > 0))
      return failed(
        "open-on-a-fret",
        `string ${s.string}, open: it lies ${(-1e3 * clearance[f]!).toFixed(2)} mm below the crown of fret ${f}; raise the nut or the saddle, or take out relief`,
      );
  return done(s);
}

function setupFault(s: FrettingString, offsets: Offsets): string | null {
  const { linearDensity, bendingStiffness, axialStiffness } = s.design;
  if (s.fretPlace.length < 2 || s.fretPlace.length !== s.crownHeight.length)
    return `${s.fretPlace.length} places of frets and ${s.crownHeight.length} heights of crowns`;
  const positive: Readonly<Record<string, number>> = {
    "scale length": s.scaleLength,
    "open frequency": s.openFrequency,
    "linear density": linearDensity,
    "length behind the nut": s.behindNut,
    "length behind the saddle": s.behindSaddle,
    "finger's distance behind the fret": Math.min(s.finger.behind.most, s.finger.behind.share),
  };
  for (const [name, value] of Object.entries(positive))
    if (!(value > 0 && Number.isFinite(value))) return `the ${name} is ${value}; it must be above 0`;
  const notNegative = { bendingStiffness, axialStiffness, "finger's depth": s.finger.depth };
  for (const [name, value] of Object.entries(notNegative))
    if (!(value >= 0 && Number.isFinite(value))) return `the ${name} is ${value}; it must not be below 0`;
  if (!(s.finger.behind.share < 1)) return "a finger all the way back stands on the fret before";
  if (![...s.crownHeight, s.nutHeight, s.saddleHeight, offsets.nut, offsets.saddle].every(Number.isFinite))
    return "a height or an offset is not a number";
  for (let f = 1; f < s.fretPlace.length; f++)
    if (!(s.fretPlace[f]! > s.fretPlace[f - 1]!)) return `fret ${f} is not beyond fret ${f - 1}`;
  if (!(offsets.nut < s.fretPlace[1]!)) return `a nut moved ${offsets.nut} m stands past fret 1`;
  if (!(s.scaleLength + offsets.saddle > s.fretPlace.at(-1)! && s.scaleLength > s.fretPlace.at(-1)!))
    return `the saddle stands before fret ${s.fretPlace.length - 1}`;
  return null;
}
