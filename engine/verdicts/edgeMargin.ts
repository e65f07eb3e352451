import { sayLength } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

/** Fret left outside an outer string where it is least, m; fret 0 is the nut. */
export interface LeastMargin {
  readonly fret: number;
  readonly margin: number;
}

const custom = 3e-3;
const pulledOff = 2e-3;

/**
 * Board beside the outer strings. 3 mm or more is custom; below 2 mm a string is pulled off the frets in playing: watch. A
 * string that runs beside a fret instead of over it: stop (it does not fit). Common practice.
 */
export function edgeMargin(bass: LeastMargin, treble: LeastMargin): Verdict {
  const [least, side] = bass.margin < treble.margin ? [bass, "bass"] : [treble, "treble"];
  const level: Level = least.margin <= 0 ? "stop" : least.margin < pulledOff ? "watch" : "good";
  const at = ({ fret }: LeastMargin): string => (fret === 0 ? "at the nut" : `at fret ${fret}`);
  return {
    id: "edge-margin",
    title: "Board beside the outer strings",
    level,
    computed: `least ${sayLength(treble.margin)} treble (${at(treble)}) and ${sayLength(bass.margin)} bass (${at(bass)})`,
    limit: `${sayLength(custom)} or more is usual; watch below ${sayLength(pulledOff)}, stop where a string runs beside a fret`,
    source: "common practice, no source",
    why:
      level === "stop"
        ? `${at(least)} the ${side} string is not over the fret at all`
        : level === "watch"
          ? `${at(least)} the ${side} string is easily pulled off the fret`
          : least.margin < custom
            ? "a little less than is usual: file the fret ends steep"
            : "the outer strings have the customary board beside them",
    whatWouldChange: `a board ${sayLength(Math.max(0, 2 * (custom - least.margin)))} wider ${at(least)}, or so much less spread of the strings there`,
    sureness: "geometry as drawn, to the strings' centres",
    figures: { bass: bass.margin, treble: treble.margin },
    canHurt: false,
  };
}
