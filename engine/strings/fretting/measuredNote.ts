import { failed, type Outcome } from "#engine/numerics";
import type { FrettingString } from "./frettingString.ts";

/** One note as the maker read it on the strung guitar. */
export interface MeasuredNote {
  /** 0 is the open string (its first partial; the harmonic at fret 12 lies 1 cent or less over twice that). */
  readonly fret: number;
  /** Against the tempered note, positive is sharp. */
  readonly cents: number;
  /** One standard deviation, cents; default 2: another press of the finger (common practice: it is worth 2 to 5). */
  readonly spreadCents?: number;
}

/** Why readings of a string cannot be fitted ("bad-reading", "too-few-readings"); null if they can. */
export function readingFault(s: FrettingString, readings: readonly MeasuredNote[]): Outcome<never> | null {
  for (const r of readings) {
    if (!Number.isInteger(r.fret) || r.fret < 0 || r.fret >= s.fretPlace.length)
      return failed(
        "bad-reading",
        `string ${s.string}: fret ${r.fret}; it has 0 (open) to ${s.fretPlace.length - 1}`,
      );
    if (!(Math.abs(r.cents) <= 100))
      return failed("bad-reading", `string ${s.string}, fret ${r.fret}: ${r.cents} cents is another note`);
    if (r.spreadCents !== undefined && !(r.spreadCents > 0 && Number.isFinite(r.spreadCents)))
      return failed("bad-reading", `string ${s.string}, fret ${r.fret}: a spread of ${r.spreadCents} cents`);
  }
  if (!(s.finger.depth > 0))
    return failed("bad-reading", `string ${s.string}: a finger that presses to no depth`);
  const frets = new Set(readings.filter((r) => r.fret > 0).map((r) => r.fret));
  if (frets.size >= 2) return null;
  return failed(
    "too-few-readings",
    frets.size === 0
      ? `string ${s.string}: no fretted note was read; read the open string, fret 12 and one low fret at least`
      : `string ${s.string}: fret ${[...frets][0]} alone does not tell the saddle's place, the string's axial stiffness and the finger's depth apart: each of them could make that reading; read the open string and another fret far from it`,
  );
}
