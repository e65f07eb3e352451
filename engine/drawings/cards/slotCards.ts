import { formatQuantity, inches, millimetres } from "#engine/units";
import { boardSketch, bridgeSketch } from "./boardSketch.ts";
import type { SlotCardsView } from "./cardView.ts";
import { acrossSketch, saddleSketch } from "./saddleSketch.ts";
import { type CardNumber, type ShopCard, shopCards } from "./shopCard.ts";

const wireEnds =
  "Cut wire ends are sharp and fly: wear eye protection, hold the offcut as you cut, bevel and dress the ends before a hand runs along the board. Dust of dark and oily board woods sensitises: exhaust and mask, and follow the wood's safety sheet.";
const tension =
  "Strings under tension can whip: slacken them before the saddle comes out, and keep eyes clear while tuning up.";
const glue = "Heat and solvents that loosen a bridge burn and fume: follow the glue's safety sheet.";

/** Cards for board, nut, bridge and saddle as one printable document: slots, frets, string places, bridge, crowns. */
export function slotCards(view: SlotCardsView): string {
  return shopCards(view, "board, bridge and saddle", slotCardList(view));
}

/** Those cards in the order of the work. */
export function slotCardList(view: SlotCardsView): readonly ShopCard[] {
  const lowest = view.strings[view.strings.length - 1].string;
  const highest = view.strings[0].string;
  return [
    {
      id: "slots",
      operation: "Cut the slots",
      how: `Each measured from the nut, never fret to fret, to 0.05 mm; the slot ${millimetres(view.slotWidth, 2)} mm wide and ${millimetres(view.slotDepth, 1)} mm deep. Paper moves: read this card, never mark slots from paper.`,
      drawing: boardSketch(view, "edges"),
      content: {
        kind: "table",
        caption:
          "From the nut line's ends along the edges; angle from square, above 0: bass end nearer the bridge",
        groups: [
          ["fret", 1],
          ["bass edge", 2],
          ["treble edge", 2],
          ["slot", 1],
        ],
        columns: ["Fret", "mm", "inch", "mm", "inch", "angle"],
        rows: view.frets.map((f) => [
          String(f.fret),
          ...both(f.bassEdge),
          ...both(f.trebleEdge),
          degrees(f.angleDeg, 2),
        ]),
      },
      boxes: [
        "Nut line cut first: everything is measured from it",
        "One rule for slots and bridge, or both checked against each other",
      ],
      caution: null,
    },
    {
      id: "slot-check",
      operation: "Check the slots",
      how: "Along the outer strings, and corner to corner: a slot whose edges are right but whose diagonals are not has slipped sideways. From the nut, never fret to fret.",
      drawing: boardSketch(view, "checks"),
      content: {
        kind: "table",
        caption: "From the nut along the strings; diagonals between the ends of nut line and slot",
        groups: [
          ["fret", 1],
          [`string ${lowest}`, 2],
          [`string ${highest}`, 2],
          ["diagonals, mm", 2],
        ],
        columns: ["Fret", "mm", "inch", "mm", "inch", "nut bass", "nut treble"],
        rows: view.frets.map((f) => [
          String(f.fret),
          ...both(f.lowestString),
          ...both(f.highestString),
          millimetres(f.nutBassToTreble, 2),
          millimetres(f.nutTrebleToBass, 2),
        ]),
      },
      boxes: ["Every slot within 0.05 mm, or marked to be filled and cut again"],
      caution: null,
    },
    {
      id: "frets",
      operation: "Cut the frets",
      how: `Wire with its overhang, tang with both ends nipped. All frets together take ${formatQuantity(view.wireInAll, "m", 2)} of wire; have a tenth more.`,
      drawing: null,
      content: {
        kind: "table",
        caption: "Lengths along the slot, mm",
        groups: [],
        columns: ["Fret", "slot", "wire", "tang"],
        rows: view.frets.map((f) => [
          String(f.fret),
          millimetres(f.slot, 1),
          millimetres(f.wire, 1),
          millimetres(f.tang, 1),
        ]),
      },
      boxes: ["Tangs nipped", "Ends bevelled and dressed"],
      caution: wireEnds,
    },
    {
      id: "nut",
      operation: "Lay out the nut",
      how: "Middle of each string along the nut, from the bass edge of the board.",
      drawing: acrossSketch(view, "nut"),
      content: {
        kind: "numbers",
        caption: "From the bass edge along the nut",
        rows: [...view.strings]
          .reverse()
          .map((s) => stringRow(s.string, `string ${s.string}, ${s.note}`, s.acrossNut)),
      },
      boxes: ["Slots fall toward the head, so that the string leaves at the nut's front edge"],
      caution: null,
    },
    {
      id: "bridge",
      operation: "Place the bridge",
      how: "From the nut's front edge to the theoretical saddle line, before any compensation; to 0.2 mm. Both diagonals right means the bridge is neither aside nor turned.",
      drawing: bridgeSketch(view),
      content: {
        kind: "numbers",
        caption: "Nut to saddle line",
        rows: [
          lengthRow("A", `string ${lowest}, along the string`, view.saddleLine.lowest),
          lengthRow("B", `string ${highest}, along the string`, view.saddleLine.highest),
          lengthRow(
            "C",
            `string ${lowest} at the nut to string ${highest} at the saddle`,
            view.saddleLine.lowestNutToHighest,
          ),
          lengthRow(
            "D",
            `string ${highest} at the nut to string ${lowest} at the saddle`,
            view.saddleLine.highestNutToLowest,
          ),
        ],
      },
      boxes: [
        "Dry fit: no light under the edge all round",
        "Finish off wherever glue goes",
        "Measured again in the clamps, before the glue takes",
      ],
      caution: glue,
    },
    {
      id: "spacing",
      operation: "Space the strings at the bridge",
      how: `Middle of each string along the saddle line, from string ${lowest}; holes and ramps behind it follow the strings' own lines.`,
      drawing: acrossSketch(view, "saddle"),
      content: {
        kind: "numbers",
        caption: `From string ${lowest} along the saddle line`,
        rows: [...view.strings]
          .reverse()
          .slice(1)
          .map((s) => stringRow(s.string, `string ${s.string}, ${s.note}`, s.acrossSaddle)),
      },
      boxes: ["First and last string lie evenly over the board's edges"],
      caution: null,
    },
    {
      id: "saddle",
      operation: "Shape the saddle",
      how: "Where each string leaves the saddle, behind the theoretical line (toward the tail), for the wanted action. Good to about 0.5 mm: leave the crown wide, string up, listen, then cut to it.",
      drawing: saddleSketch(view),
      content: {
        kind: "numbers",
        caption: "Crown behind the theoretical saddle line",
        rows: [...view.strings].reverse().map((s) => ({
          mark: String(s.string),
          what: s.note,
          value: s.saddleOffset === null ? "none" : formatQuantity(s.saddleOffset, "mm", 1),
          also:
            s.saddleOffset === null
              ? "cannot be played so"
              : `${millimetres(s.scaleLength + s.saddleOffset, 1)} mm from the nut`,
        })),
      },
      boxes: ["Open string and fret 12 within 2 cents on every string"],
      caution: tension,
    },
  ];
}

/** With a true minus sign, and never a minus zero. */
function degrees(angle: number, decimals: number): string {
  const text = angle.toFixed(decimals);
  return `${Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−")}°`;
}

/** mm to 0.01 and inch to 0.001. */
function both(length: number): readonly [string, string] {
  return [millimetres(length, 2), inches(length)];
}

function lengthRow(mark: string, what: string, length: number): CardNumber {
  return { mark, what, value: formatQuantity(length, "mm", 1), also: `${inches(length, 2)} in` };
}

function stringRow(string: number, what: string, length: number): CardNumber {
  return { mark: String(string), what, value: formatQuantity(length, "mm", 2), also: `${inches(length)} in` };
}
