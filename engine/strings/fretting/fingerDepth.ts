import { type FrettingString, fingerBehind } from "./frettingString.ts";

/** Beyond the depth at which a thread would just touch the crown: a touch is no hold. */
const holdingShare = 1.2;

/**
 * Depth at which a finger holds the string on the crown of `fret`, m: a fifth more than where the line from the saddle
 * over the crown, carried on to the finger, lies below the line of the crowns. (Less and the string lifts or buzzes;
 * bending stiffness asks for none more: steel strings from .012 to .056 in bear from 0.8 to 0.95 of that line on.)
 */
export function bearingDepth(s: FrettingString, fret: number): number {
  const place = s.fretPlace[fret]!;
  const crown = s.crownHeight[fret]!;
  const ahead = (s.saddleHeight - crown) / (s.scaleLength - place);
  const before = (crown - s.crownHeight[fret - 1]!) / (place - s.fretPlace[fret - 1]!);
  return Math.max(0, holdingShare * (ahead - before) * fingerBehind(s, fret));
}

/** Depth that holds the string on every fret, m. */
export function leastFingerDepth(s: FrettingString): number {
  let least = 0;
  for (let fret = 1; fret < s.fretPlace.length; fret++) least = Math.max(least, bearingDepth(s, fret));
  return least;
}

/** Depth at which a thread would just touch the crown of the fret that asks for most, m. */
export function touchingDepth(s: FrettingString): number {
  return leastFingerDepth(s) / holdingShare;
}
