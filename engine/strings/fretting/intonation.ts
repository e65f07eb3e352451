import { done, type Outcome } from "#engine/numerics";
import { pressedPitch } from "./frettedPitch.ts";
import { checkedString, type FrettingString, type Offsets } from "./frettingString.ts";
import { openTension } from "./openTension.ts";

/** How far each fretted note is off when the open string is tuned true. */
export interface Intonation {
  readonly string: number;
  readonly offsets: Offsets;
  /** By fret (index 0: the open string, 0); positive is sharp. */
  readonly cents: Float64Array;
}

/** Cents at every fret. Model, validity and refusals as for `frettedPitch`. */
export function intonation(s: FrettingString, offsets: Offsets): Outcome<Intonation> {
  const checked = checkedString(s, offsets);
  if (!checked.ok) return checked;
  const open = openTension(s, offsets);
  const cents = new Float64Array(s.fretPlace.length);
  for (let fret = 1; fret < cents.length; fret++) {
    const pitch = pressedPitch(s, fret, open);
    if (!pitch.ok) return pitch;
    cents[fret] = pitch.value.cents;
  }
  return done({ string: s.string, offsets, cents });
}
