import {
  box,
  circle,
  type Drawing,
  filled,
  group,
  lineMm,
  type Mark,
  stroked,
  words,
} from "../displayList.ts";
import { extentOf, type Placing, placeOnSheet } from "../placing.ts";
import type { SlotCardsView } from "./cardView.ts";
import { ring } from "./ring.ts";

const widthMm = 186;
const side = 5;
const above = 6;
const below = 7;

type Pair = readonly [number, number];

/** The board alone with its numbered slots, as its player looks down on it, and what is measured on it: not to mark from. */
export function boardSketch(view: SlotCardsView, shows: "edges" | "checks"): Drawing {
  const { board, hand } = view;
  const extent = extentOf(
    [],
    [board.nutLine.bass, board.nutLine.treble, ...board.bassEdge, ...board.trebleEdge],
  );
  const mmPerMetre = (widthMm - 2 * side) / (extent.maxX - extent.minX);
  const drawn = (extent.maxY - extent.minY) * mmPerMetre;
  const place = placeOnSheet(
    hand,
    extent,
    { x: side, y: above, width: widthMm - 2 * side, height: drawn },
    mmPerMetre,
  );
  const edges = [
    [board.nutLine.bass, board.bassEdge[1]],
    [board.nutLine.treble, board.trebleEdge[1]],
  ] as const;
  const measured =
    shows === "edges"
      ? edges.map(([a, b]) => arrow(place.point(...a), place.point(...b)))
      : checks(view, place);
  return {
    widthMm,
    heightMm: above + drawn + below,
    title: shows === "edges" ? "Where the slots are measured" : "How the slots are checked",
    description:
      shows === "edges"
        ? "The fingerboard with its numbered slots; arrows run along both edges from the ends of the nut line."
        : "The fingerboard with its numbered slots; arrows run from the nut line along the outer strings, and dashed diagonals from each end of the nut line to the other end of fret 12.",
    marks: [
      ...outline(view, place),
      group("measured", measured),
      ...numbers(view, place, shows === "edges" ? "inside" : "outside"),
      ...edgeNames(view, place),
    ],
  };
}

function outline({ board }: SlotCardsView, place: Placing): readonly Mark[] {
  const corners = [board.nutLine.bass, board.bassEdge[1], board.trebleEdge[1], board.nutLine.treble];
  const between = (ends: { readonly bass: Pair; readonly treble: Pair }) =>
    Float64Array.of(...place.point(...ends.bass), ...place.point(...ends.treble));
  return [
    group("board", [
      filled([Float64Array.from(corners.flatMap((p) => place.point(...p)))], "spruce", {
        ink: "ink",
        widthMm: lineMm.medium,
      }),
    ]),
    group("slots", [stroked(board.slots.map(between), { ink: "ink", widthMm: lineMm.fine })]),
    group("nut", [stroked([between(board.nutLine)], { ink: "ink", widthMm: lineMm.heavy * 1.6 })]),
  ];
}

/** From the nut line along both outer strings, and the two diagonals of fret 12 (or of the last fret before it). */
function checks({ board, frets }: SlotCardsView, place: Placing): readonly Mark[] {
  const fret = Math.min(12, frets.length);
  const slot = board.slots[fret - 1];
  const last = board.slots[board.slots.length - 1];
  const outer = [board.strings[0], board.strings[board.strings.length - 1]];
  const along = outer.map((s) => {
    const [nx, ny] = s.nut;
    const t = crossing(s.nut, s.saddle, last);
    return arrow(place.point(nx, ny), place.point(nx + t * (s.saddle[0] - nx), ny + t * (s.saddle[1] - ny)));
  });
  const diagonals = [
    [board.nutLine.bass, slot.treble],
    [board.nutLine.treble, slot.bass],
  ] as const;
  return [
    ...along,
    stroked(
      diagonals.map(([a, b]) => Float64Array.of(...place.point(...a), ...place.point(...b))),
      { ink: "accent", widthMm: lineMm.medium, dashMm: [2.4, 1] },
    ),
  ];
}

/** Fraction of the string, nut to saddle, at which it crosses a slot. */
function crossing(nut: Pair, saddle: Pair, slot: { readonly bass: Pair; readonly treble: Pair }): number {
  const [ux, uy] = [saddle[0] - nut[0], saddle[1] - nut[1]];
  const [vx, vy] = [slot.treble[0] - slot.bass[0], slot.treble[1] - slot.bass[1]];
  return ((slot.bass[0] - nut[0]) * vy - (slot.bass[1] - nut[1]) * vx) / (ux * vy - uy * vx);
}

function arrow(from: Pair, to: Pair): Mark {
  const turn = Math.atan2(to[1] - from[1], to[0] - from[0]);
  const wing = (off: number): Pair => [to[0] - 3 * Math.cos(turn + off), to[1] - 3 * Math.sin(turn + off)];
  return group("arrow", [
    stroked([Float64Array.of(...from, ...to)], { ink: "accent", widthMm: lineMm.bold }),
    filled([Float64Array.of(...to, ...wing(0.28), ...wing(-0.28))], "accent"),
    filled([circle(...from, 1)], "accent"),
  ]);
}

function numbers({ board }: SlotCardsView, place: Placing, where: "inside" | "outside"): readonly Mark[] {
  return board.slots.map((slot) => {
    const [bx, by] = place.point(...slot.bass);
    const [tx, ty] = place.point(...slot.treble);
    const at: Pair = where === "inside" ? [(bx + tx) / 2, (by + ty) / 2] : ty < by ? [tx, ty] : [bx, by];
    const label = words(String(slot.fret), at[0], where === "inside" ? at[1] + 1.1 : at[1] - 1.2, 3.1, {
      anchor: "middle",
    });
    if (where === "outside") return label;
    const wide = slot.fret > 9 ? 4.2 : 2.8;
    return group("fret number", [filled([box(at[0] - wide / 2, at[1] - 1.9, wide, 3.8)], "spruce"), label]);
  });
}

/** Bass under the board and treble over it, for the player looks down on it. */
function edgeNames({ board, hand }: SlotCardsView, place: Placing): readonly Mark[] {
  const name = (text: string, end: Pair, other: Pair): Mark => {
    const [x, y] = place.point(...end);
    const lower = y > place.point(...other)[1];
    return words(text, hand === "right" ? x + 2 : x - 2, lower ? y + 4.6 : y - 2, 3.4, {
      anchor: hand === "right" ? "start" : "end",
      ink: "soft",
    });
  };
  const { bass, treble } = board.nutLine;
  return [name("nut, bass edge", bass, treble), name("treble", treble, bass)];
}

/** The guitar from nut to saddle line with its outer strings and both diagonals, lettered A to D. */
export function bridgeSketch(view: SlotCardsView): Drawing {
  const { board, hand, bridge } = view;
  const lowest = board.strings[board.strings.length - 1];
  const highest = board.strings[0];
  const extent = extentOf(
    [bridge],
    [board.nutLine.bass, board.nutLine.treble, ...board.bassEdge, ...board.trebleEdge],
  );
  const mmPerMetre = (widthMm - 2 * side) / (extent.maxX - extent.minX);
  const drawn = (extent.maxY - extent.minY) * mmPerMetre;
  const place = placeOnSheet(
    hand,
    extent,
    { x: side, y: above, width: widthMm - 2 * side, height: drawn },
    mmPerMetre,
  );
  const lines = [
    ["A", lowest.nut, lowest.saddle, false, 0.36],
    ["B", highest.nut, highest.saddle, false, 0.36],
    ["C", lowest.nut, highest.saddle, true, 0.7],
    ["D", highest.nut, lowest.saddle, true, 0.7],
  ] as const;
  return {
    widthMm,
    heightMm: above + drawn + below,
    title: "Where the bridge is measured",
    description:
      "The fingerboard and the bridge from above. A and B run from the nut to the saddle line along the lowest and the highest string, C and D are the diagonals between them.",
    marks: [
      ...outline(view, place),
      group("bridge", [filled([place.chain(bridge)], "rosewood", { ink: "ink", widthMm: lineMm.medium })]),
      group("saddle line", [
        stroked([Float64Array.of(...place.point(...lowest.saddle), ...place.point(...highest.saddle))], {
          ink: "ink",
          widthMm: lineMm.bold,
        }),
      ]),
      ...lines.map(([letter, a, b, dashed, share]) => {
        const [from, to] = [place.point(...a), place.point(...b)];
        const [x, y] = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
        return group(`dimension ${letter}`, [
          stroked([Float64Array.of(...from, ...to)], {
            ink: "accent",
            widthMm: lineMm.medium,
            ...(dashed ? { dashMm: [2.4, 1] } : {}),
          }),
          ...ring(letter, x, y),
        ]);
      }),
      ...edgeNames(view, place),
    ],
  };
}
