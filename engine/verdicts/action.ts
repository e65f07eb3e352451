import { sayLength } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** Action over fret 12 of the lowest and the highest string, m: as wanted, and as the saddle in the document gives it. */
export interface ActionFigures {
  readonly bass: number;
  readonly treble: number;
  readonly bassAsStated: number;
  readonly trebleAsStated: number;
}

const custom = { bass: [2.2e-3, 2.6e-3], treble: [1.6e-3, 2e-3] } as const;
// A feeler gauge tells no less at fret 12.
const slack = 5e-5;

/** Wanted action over fret 12 against custom: 1.6 to 2.0 mm treble, 2.2 to 2.6 bass. Outside: watch, never more: it is a wish. */
export function action(figures: ActionFigures): Verdict {
  const words: string[] = [];
  for (const side of ["treble", "bass"] as const) {
    const [low, high] = custom[side];
    const found = figures[side];
    if (found < low - slack) words.push(`the ${side} is lower than is usual: it wants a light hand`);
    if (found > high + slack)
      words.push(
        `the ${side} is higher than is usual: it is harder to press and drives fretted notes sharper`,
      );
  }
  return {
    id: "action",
    title: "Action over fret 12",
    level: words.length > 0 ? "watch" : "good",
    computed: `${sayLength(figures.treble)} treble and ${sayLength(figures.bass)} bass wanted; the saddle as stated gives ${sayLength(figures.trebleAsStated)} and ${sayLength(figures.bassAsStated)}`,
    limit: "1.6 to 2.0 mm treble, 2.2 to 2.6 mm bass",
    source: "common practice, no source",
    why:
      words.length > 0
        ? words.join("; ")
        : "it is in the customary range; whether it buzzes is told on its own",
    whatWouldChange: "saddle height (two for one), nut slots, relief, neck pitch",
    sureness:
      "geometry as drawn; under load and in the first weeks it rises by 0.3 to 0.8 mm (common practice, no source), which is not in it",
    figures: { ...figures },
    canHurt: false,
  };
}
