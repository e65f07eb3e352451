import { formatQuantity, inches } from "#engine/units";
import type { SetupCardsView } from "./cardView.ts";
import { type CardNumber, type ShopCard, shopCards } from "./shopCard.ts";
import { neckSketch, saddleEndSketch } from "./sideSketch.ts";

const tension =
  "Strings under tension can whip: keep eyes clear, bring all up by steps, and slacken them before nut, saddle or rod is worked on. A guitar left in a hot car loosens its glue under this pull.";
const wireEnds =
  "Cut string ends are sharp: clip them close and turn them in. Dust of bone and shell is harmful: wet it, or mask and exhaust.";

/** Cards for the setup as one printable document. */
export function setupCards(view: SetupCardsView): string {
  return shopCards(view, "the setup", setupCardList(view));
}

/** Neck and nut first: the saddle is cut to them. */
export function setupCardList(view: SetupCardsView): readonly ShopCard[] {
  const { breakAngleDeg: turn } = view;
  return [
    {
      id: "neck",
      operation: "Set neck and nut",
      how: "Tuned to pitch, guitar in playing position. Relief first, then the nut, then the action by the saddle.",
      drawing: neckSketch(view.hand),
      content: {
        kind: "numbers",
        caption: "Gaps under the strings",
        rows: [
          gap("A", "relief: deepest gap under a straightedge on the frets", view.relief),
          gap("B", "nut, bass: string over the crowns carried on", view.nutBass),
          gap("B", "nut, treble", view.nutTreble),
          gap("C", "action over fret 12, bass", view.actionBass),
          gap("C", "action over fret 12, treble", view.actionTreble),
        ],
      },
      boxes: ["Frets levelled and crowned", "Tuned to pitch for a day before the last cut"],
      caution: tension,
    },
    {
      id: "saddle-height",
      operation: "Set the saddle",
      how: "Heights are to the underside of the strings at the saddle, over the top's outside, as neck and action ask for; they are of the unloaded body, so leave some to file and go by the action.",
      drawing: saddleEndSketch(view.hand),
      content: {
        kind: "numbers",
        caption: "At the bridge",
        rows: [
          height("D", "string over the top, bass", view.saddleBass),
          height("D", "string over the top, treble", view.saddleTreble),
          {
            mark: "E",
            what:
              view.straightedge < 0
                ? "straightedge on the frets meets the bridge below its upper face by"
                : "straightedge on the frets clears the bridge by",
            value: formatQuantity(Math.abs(view.straightedge), "mm", 2),
            also: `${inches(Math.abs(view.straightedge))} in`,
          },
          angle("F", `least break angle, string ${turn.leastString}`, turn.least),
          angle("F", `greatest break angle, string ${turn.greatestString}`, turn.greatest),
        ],
      },
      boxes: [
        "The saddle stands out no further than it sits in its slot",
        "No string buzzes at the pluck it is meant for",
      ],
      caution: wireEnds,
    },
  ];
}

/** Feeler gauges come in hundredths of a millimetre and thousandths of an inch. */
function gap(mark: string, what: string, length: number): CardNumber {
  return { mark, what, value: formatQuantity(length, "mm", 2), also: `${inches(length)} in` };
}

function height(mark: string, what: string, length: number): CardNumber {
  return { mark, what, value: formatQuantity(length, "mm", 1), also: `${inches(length, 2)} in` };
}

function angle(mark: string, what: string, degrees: number): CardNumber {
  return { mark, what, value: `${degrees.toFixed(0)}°`, also: "20 to 35° is usual" };
}
