import type { Build } from "#engine/instrument";
import {
  leastHeights,
  type NearestCrown,
  nearestCrowns,
  type PluckFor,
  type StringOverBoard,
} from "#engine/strings";
import { actionForSaddle } from "./stringsOverBoard.ts";

export const plucks = ["soft", "normal", "hard"] as const;
export type PluckName = (typeof plucks)[number];

/** Share of a pluck's displacement square to the top: let go at 45 degrees, as the note board has it. */
export const pluckShare = Math.SQRT1_2;

/** From the saddle, m, where the document says nothing: as the note board has it, 120 mm or a quarter of the sounding length. */
const usualPlace = 0.12;

/**
 * A pluck of the build as it moves a string of any sounding length. What the document says holds for the open string; a
 * stopped string gives way less to the same finger: a force F held a before the end of a length L moves it by
 * F a (L - a) / (T L). `give`: how much further the finger moves this string than as it is first tuned.
 */
export function pluckOf(build: Build, name: PluckName, openLength: number, give = 1): PluckFor {
  const peak = build.setup.pluck[name] * pluckShare * give;
  // a stated place is kept until it would pass the middle of what sounds
  const from = (length: number): number =>
    build.pluckPlace === null ? Math.min(usualPlace, length / 4) : Math.min(build.pluckPlace, length / 2);
  const yielding = (length: number): number => (from(length) * (length - from(length))) / length;
  return (length) => ({ peak: (peak * yielding(length)) / yielding(openLength), fromSaddle: from(length) });
}

/** One string under one pluck. */
export interface PluckedString {
  /** By fret, 0 = open; null for the last fret. */
  readonly nearest: readonly (NearestCrown | null)[];
  /** Frets (0 = open) at which it strikes a crown ahead. */
  readonly buzzing: readonly number[];
  readonly worst: (NearestCrown & { readonly fret: number }) | null;
  /** Least action over fret 12 at which no stopped note strikes, and the nut's clearance at which the open string does not either, m. */
  readonly leastAction: number;
  readonly leastNutClearance: number;
}

export function pluckedString(s: StringOverBoard, pluck: PluckFor | null): PluckedString {
  const nearest = nearestCrowns(s, pluck);
  let worst: PluckedString["worst"] = null;
  for (const [fret, n] of nearest.entries())
    if (n !== null && (worst === null || n.clearance < worst.clearance)) worst = { ...n, fret };
  const least = leastHeights(s, pluck);
  return {
    nearest,
    buzzing: [...nearest.keys()].filter((fret) => (nearest[fret]?.clearance ?? 0) < 0),
    worst,
    leastAction: actionForSaddle(s, least.saddle),
    leastNutClearance: least.nut - s.crownHeight[0]!,
  };
}
