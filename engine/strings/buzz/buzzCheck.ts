import { type StringOverBoard, stoppedAt } from "./overBoard.ts";
import { type PluckRelease, pluckedReach } from "./pluckedReach.ts";

/** The string at rest over every crown ahead of where it is stopped (index 0: open), nearest to the stop first, m. */
export function clearancesAhead(s: StringOverBoard): readonly (readonly number[])[] {
  return Array.from(s.fretPlace, (_, fret) => {
    const from = stoppedAt(s, fret)[1];
    return crownsAhead(s, fret, null).map(
      ({ share, floor }) => from + share * (s.saddleHeight - from) - floor,
    );
  });
}

/** How a hand plucks a string of a given sounding length. */
export type PluckFor = (soundingLength: number) => PluckRelease;

/** Least distance of a sounding string from the crowns ahead of it, m; below 0 it strikes the crown of `overFret`. */
export interface NearestCrown {
  readonly clearance: number;
  readonly overFret: number;
}

/**
 * The crown that the string comes nearest to, stopped at each fret (index 0: open); null for the last fret, which has no
 * crown ahead. Without a pluck: the string at rest, straight from the stopping crown to the saddle.
 */
export function nearestCrowns(s: StringOverBoard, pluck: PluckFor | null): readonly (NearestCrown | null)[] {
  return Array.from(s.fretPlace, (_, fret): NearestCrown | null => {
    let nearest: NearestCrown | null = null;
    for (const { over, share, floor } of crownsAhead(s, fret, pluck)) {
      const from = stoppedAt(s, fret)[1];
      const clearance = from + share * (s.saddleHeight - from) - floor;
      if (nearest === null || clearance < nearest.clearance) nearest = { clearance, overFret: over };
    }
    return nearest;
  });
}

/**
 * Least heights at which the string, so plucked, clears every crown, m: of the saddle for all stopped strings, the nut
 * having no part in them, and then of the nut for the open one, over a saddle no lower than it stands. Clearances are
 * straight in both heights, so these are exact.
 */
export function leastHeights(
  s: StringOverBoard,
  pluck: PluckFor | null,
): { readonly saddle: number; readonly nut: number } {
  let saddle = Number.NEGATIVE_INFINITY;
  for (let fret = 1; fret < s.fretPlace.length; fret++) {
    const from = stoppedAt(s, fret)[1];
    for (const { share, floor } of crownsAhead(s, fret, pluck))
      saddle = Math.max(saddle, from + (floor - from) / share);
  }
  const standing = Math.max(saddle, s.saddleHeight);
  let nut = Number.NEGATIVE_INFINITY;
  for (const { share, floor } of crownsAhead(s, 0, pluck))
    nut = Math.max(nut, (floor - share * standing) / (1 - share));
  return { saddle, nut };
}

/** Crowns ahead of a stopped string: their share of the way to the saddle, and how high the resting string must be over them. */
function crownsAhead(
  s: StringOverBoard,
  fret: number,
  pluck: PluckFor | null,
): readonly { readonly over: number; readonly share: number; readonly floor: number }[] {
  const [place] = stoppedAt(s, fret);
  const length = s.scaleLength - place;
  const release = pluck === null ? null : pluck(length);
  return Array.from({ length: s.fretPlace.length - 1 - fret }, (_, k) => {
    const over = fret + 1 + k;
    const ahead = s.fretPlace[over]! - place;
    const reach = release === null ? 0 : pluckedReach(length, release, ahead);
    return { over, share: ahead / length, floor: s.crownHeight[over]! + reach };
  });
}
