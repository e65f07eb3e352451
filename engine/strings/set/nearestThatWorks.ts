import type { StringDesign } from "../design.ts";
import { nearestNote } from "../pitch.ts";
import { leastMargin, type StringState, slackLimit, stringState, tension } from "../tension.ts";
import type { SetPlace } from "./balancedSet.ts";
import type { MakeableString } from "./makeableStrings.ts";

/** What would work instead of a string that breaks or hangs slack: each is null where none does. */
export interface NearestThatWorks {
  /** Number of the nearest tempered note that this string holds here (A4 = 69). */
  readonly note: number | null;
  /** Length on which this string holds its note, m. */
  readonly scaleLength: number | null;
  /** The makeable string nearest in weight that holds this note here. */
  readonly string: MakeableString | null;
}

/**
 * The nearest note, length and gauge that work for a string which does not hold; null if it does. From T = 4 m L^2 f^2
 * against what the string breaks at with a semitone in hand, or against the tension at which it is slack.
 */
export function nearestThatWorks(
  design: StringDesign,
  place: SetPlace,
  makeable: readonly MakeableString[],
  a4 = 440,
): NearestThatWorks | null {
  const { frequency, scaleLength } = place;
  const pull = (d: StringDesign): number => tension(d.linearDensity, scaleLength, frequency);
  const state: StringState = stringState(design, pull(design));
  if (state === "holds") return null;
  const limits = [slackLimit(design), design.breakingForce / leastMargin] as const;
  const free = limits[0] < limits[1];
  const share = Math.sqrt((state === "breaks" ? limits[1] : limits[0]) / pull(design));
  const exact = 69 + 12 * Math.log2((frequency * share) / a4);
  const note = state === "breaks" ? Math.floor(exact + 1e-9) : Math.ceil(exact - 1e-9);
  const holds = makeable.filter((m) => stringState(m.design, pull(m.design)) === "holds");
  const far = (m: MakeableString): number =>
    Math.abs(Math.log(m.design.linearDensity / design.linearDensity));
  return {
    note: free && note !== nearestNote(frequency, a4) ? note : null,
    scaleLength: free ? scaleLength * share : null,
    string: holds.length === 0 ? null : holds.reduce((a, b) => (far(b) < far(a) ? b : a)),
  };
}
