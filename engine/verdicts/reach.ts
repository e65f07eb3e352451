import { sayLength } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface ReachFigures {
  /** The highest fret a hand can finger, the board's last, and where the body begins. */
  readonly fret: number;
  readonly lastFret: number;
  readonly joinFret: number;
  /** How far past the body's end the fingers get, m. */
  readonly pastBodyEnd: number;
  readonly limit: "board" | "heel" | "body";
}

const limits = {
  board: "the hand gets to the end of the board",
  heel: "the thumb is held at the heel: a cutaway helps no further than a hand spans from there",
  body: "the body's edge beside the board stops the hand",
} as const;

/** The highest fret that a hand can finger, by rules of the trade. Frets beyond it: watch. */
export function reach(r: ReachFigures): Verdict {
  const beyond = r.lastFret - r.fret;
  return {
    id: "reach",
    title: "Reach up the board",
    level: beyond > 0 ? "watch" : "good",
    computed: `fret ${r.fret} of ${r.lastFret} on the highest string, ${sayLength(r.pastBodyEnd, 0)} past the body's end at fret ${r.joinFret}`,
    limit: `every fret on the board, ${r.lastFret}`,
    source: "common practice, no source: a 12-fret neck without a cutaway is played to about fret 15",
    why:
      beyond > 0
        ? `${limits[r.limit]}; fret${beyond === 1 ? ` ${r.lastFret} is` : `s ${r.fret + 1} to ${r.lastFret} are`} there to be looked at, or for a stretch`
        : limits[r.limit],
    whatWouldChange:
      "a cutaway on the treble side or a deeper one, a board that stands higher over the top, a neck that joins at a higher fret, a slimmer heel",
    sureness: "good to about one fret; hands and habits differ more",
    figures: { fret: r.fret, lastFret: r.lastFret, pastBodyEnd: r.pastBodyEnd },
    canHurt: false,
  };
}
