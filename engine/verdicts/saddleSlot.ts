import { sayAngle, sayLength } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

/** m and rad; offsets are behind the theoretical saddle line. */
export interface SlotFigures {
  readonly width: number;
  /** Mean of the strings' scale lengths. */
  readonly scaleLength: number;
  /** Band that holds every string's crown: along the theoretical line moved back, and slanted to the best angle as well. */
  readonly straight: { readonly move: number; readonly span: number };
  readonly slanted: { readonly move: number; readonly span: number; readonly slant: number };
}

/** Wood of the saddle that must stand beside a crown, both sides together. */
export const besideCrown = 6e-4;

/** What the best places hold to, either way: a crown no further off than this is as good as on its place. */
const holdsTo = 5e-4;

/**
 * Can the saddle hold the compensation? Crowns can stand anywhere in the slot's width less 0.6 mm (common practice). If a
 * slot parallel to the theoretical line, moved back, holds them, or a slanted one: good. If the outermost crowns would
 * stand off by no more than their places are known, 0.5 mm: watch. Beyond that: stop, with the width that would do.
 */
export function saddleSlot({ width, scaleLength, straight, slanted }: SlotFigures): Verdict {
  const room = width - besideCrown;
  const off = (slanted.span - room) / 2;
  const fits = straight.span <= room ? "straight" : slanted.span <= room ? "slanted" : "none";
  const level: Level = fits !== "none" ? "good" : off <= holdsTo ? "watch" : "stop";
  // A crown off by d on an open string tuned true leaves 2 d / L of the frequency at the octave: 1731 cents to one.
  const cents = (1200 / Math.LN2) * (off / scaleLength);
  const slant = `${sayAngle(Math.abs(slanted.slant))} further back at the ${slanted.slant >= 0 ? "bass" : "treble"} end`;
  const needed = slanted.span + besideCrown;
  return {
    id: "saddle-slot",
    title: "The saddle holds the compensation",
    level,
    computed: `in a slot of ${sayLength(width)} the crowns have ${sayLength(Math.max(0, room))} to stand in; they want ${sayLength(straight.span)} along the theoretical saddle line, ${sayLength(slanted.span)} along the best slant`,
    limit: "the slot's width less 0.6 mm",
    source: "common practice, no source",
    why:
      fits === "straight"
        ? `a slot parallel to the theoretical line, its middle ${sayLength(straight.move)} behind it, holds every string's place`
        : fits === "slanted"
          ? `a slot with its middle ${sayLength(slanted.move)} behind the theoretical line and slanted by ${slant} holds every string's place`
          : `no straight slot of this width holds every string's place: the worst would stand ${sayLength(off)} off, ${cents < 1 ? "less than a cent" : `some ${cents.toFixed(0)} cents`} at fret 12`,
    whatWouldChange: `a slot and saddle ${sayLength(Math.ceil(needed * 1e4) / 1e4)} wide, slanted by ${slant}, its middle ${sayLength(slanted.move)} behind the theoretical line; a nut moved forward, a lower action or other gauges bring the places together`,
    sureness: "places hold to about 0.5 mm a string, the nut left on its line",
    figures: {
      room,
      straightSpan: straight.span,
      straightMove: straight.move,
      slantedSpan: slanted.span,
      slantedMove: slanted.move,
      slant: slanted.slant,
      leastWidth: needed,
    },
    canHurt: false,
  };
}
