import { sayAngle, sayLength } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

/** Outer strings, m and rad. */
export interface SaddleHeights {
  readonly statedBass: number;
  readonly statedTreble: number;
  readonly askedBass: number;
  readonly askedTreble: number;
  readonly bridgeThickness: number;
  readonly slotDepth: number;
  /** From the body's end to the saddle along the centreline. */
  readonly run: number;
  /** Straightedge on the frets over the bridge's upper face; below 0 it meets the bridge. */
  readonly straightedge: number;
}

/** What a maker files off or shims without thinking of the neck. */
const filed = 2e-4;

/**
 * Saddle heights that neck, board and action ask for against the stated ones. Within 0.2 mm good, beyond it watch; a
 * saddle that would not stand out of its bridge, or further out than it sits in: stop (it does not fit).
 */
export function saddleHeight(h: SaddleHeights): Verdict {
  const moves = [h.askedBass - h.statedBass, h.askedTreble - h.statedTreble] as const;
  const shows = [h.askedBass, h.askedTreble].map((asked) => asked - h.bridgeThickness);
  const [low, high] = [Math.min(...shows), Math.max(...shows)];
  const worst = Math.max(...moves.map(Math.abs));
  const level: Level = low <= 0 || high > h.slotDepth ? "stop" : worst > filed ? "watch" : "good";
  const say = (move: number): string =>
    Math.abs(move) < 5e-5 ? "as it is" : `${sayLength(Math.abs(move), 2)} ${move > 0 ? "higher" : "lower"}`;
  const middle = (moves[0] + moves[1]) / 2;
  const pitch = -Math.atan(middle / h.run);
  const way = (pitch: number): string =>
    `${sayAngle(Math.abs(pitch)) === sayAngle(0) ? "less than 0.1 degrees" : sayAngle(Math.abs(pitch))} ${pitch > 0 ? "more" : "less"}`;
  return {
    id: "saddle-height",
    title: "Saddle height that neck and action ask for",
    level,
    computed: `asked ${sayLength(h.askedTreble)} treble and ${sayLength(h.askedBass)} bass over the top, stated ${sayLength(h.statedTreble)} and ${sayLength(h.statedBass)}: the saddle must stand ${say(moves[1])} at the treble and ${say(moves[0])} at the bass string; a straightedge on the frets ${
      h.straightedge < 0
        ? `meets the bridge ${sayLength(-h.straightedge, 2)} below its upper face`
        : `clears the bridge by ${sayLength(h.straightedge, 2)}`
    }`,
    limit:
      "within 0.2 mm of what is stated; a straightedge meets the bridge's upper face or clears it by 0.5 to 1 mm; the saddle stands out of the bridge, no further than it sits in it",
    source: "common practice, no source",
    why:
      low <= 0
        ? "at this action a string would lie on the bridge: the neck is pitched too little or set too low"
        : high > h.slotDepth
          ? "at this action more of the saddle would show than sits in its slot: the neck is pitched too far back or set too high"
          : worst > filed
            ? "set to the stated height, the strings would not have the action that is wanted"
            : "stated height and geometry agree to what is filed at setup",
    whatWouldChange: `saddle height; or a neck pitched ${way(pitch)}, which brings the middle of the saddle to its stated height; board thickness and height move it one for one`,
    sureness:
      "geometry of the unloaded body as drawn, board thickness taken at its middle; under string load and in the first weeks the neck rises and the bridge turns, which asks for a lower saddle",
    figures: {
      moveBass: moves[0],
      moveTreble: moves[1],
      straightedge: h.straightedge,
      pitchChange: pitch,
      leastShow: low,
      mostShow: high,
    },
    canHurt: false,
  };
}
