import type { Polygon } from "#engine/geometry";
import { type Drawing, filled, group, line, lineMm, type Mark, stroked, words } from "../displayList.ts";
import { extentOf } from "../placing.ts";
import type { SlotCardsView } from "./cardView.ts";

const widthMm = 186;
/** So that the numbers find room under it. */
const tallest = 52;

type Pair = readonly [number, number];

/**
 * The bridge seen with the neck up: the theoretical saddle line dashed, each string's crown as a bar as far behind it as it
 * belongs.
 */
export function saddleSketch(view: SlotCardsView): Drawing {
  const { board, bridge, strings, hand } = view;
  const extent = extentOf([bridge]);
  const margin = 6;
  const mmPerMetre = Math.min(
    tallest / (extent.maxX - extent.minX),
    (widthMm - 2 * margin) / (extent.maxY - extent.minY),
  );
  const drawn = (extent.maxX - extent.minX) * mmPerMetre;
  const top = 10;
  // neck up: the bass side of a right-handed guitar lies to the left, and the plan of a left-handed one is mirrored already
  const point = (x: number, y: number): Pair => [
    widthMm / 2 - (y - (extent.minY + extent.maxY) / 2) * mmPerMetre,
    top + (extent.maxX - x) * mmPerMetre,
  ];
  const chain = (p: Polygon) => p.map((_, i) => point(p[i - (i % 2)], p[i - (i % 2) + 1])[i % 2]);
  const lowest = board.strings[board.strings.length - 1];
  const highest = board.strings[0];
  const crowns = strings.flatMap((s, i): Mark[] => {
    const path = board.strings[i];
    const [nx, ny] = path.nut;
    const [sx, sy] = path.saddle;
    const [x, y] = point(sx, sy);
    const up = Float64Array.of(x, y, ...toEdge(point, path.nut, path.saddle, extent.maxX + 0.004));
    const marks: Mark[] = [
      stroked([up], { ink: "ink", widthMm: lineMm.thin }),
      words(String(s.string), up[2], top - 4.5, 4.2, { anchor: "middle", bold: true }),
    ];
    if (s.saddleOffset === null) return marks;
    const stretch = 1 + s.saddleOffset / path.scaleLength;
    const [cx, cy] = point(nx + stretch * (sx - nx), ny + stretch * (sy - ny));
    return [
      ...marks,
      group(`crown ${s.string}`, [
        stroked([line(x, y, cx, cy)], { ink: "accent", widthMm: lineMm.fine }),
        stroked([line(cx - 2.4, cy, cx + 2.4, cy)], { ink: "accent", widthMm: lineMm.heavy * 1.4 }),
      ]),
    ];
  });
  return {
    widthMm,
    heightMm: top + drawn + 5,
    title: "Where the crowns stand",
    description: `The bridge seen with the neck up, the bass side to the ${hand === "right" ? "left" : "right"}; the theoretical saddle line is dashed and a red bar marks the crown of each string behind it.`,
    marks: [
      group("bridge", [filled([chain(bridge)], "rosewood", { ink: "ink", widthMm: lineMm.medium })]),
      group("saddle line", [
        stroked([Float64Array.of(...point(...lowest.saddle), ...point(...highest.saddle))], {
          ink: "ink",
          widthMm: lineMm.fine,
          dashMm: [2, 1],
        }),
      ]),
      ...crowns,
    ],
  };
}

/** The string carried on from its saddle towards the nut as far as a station. */
function toEdge(point: (x: number, y: number) => Pair, nut: Pair, saddle: Pair, x: number): Pair {
  const t = (x - saddle[0]) / (nut[0] - saddle[0]);
  return point(x, saddle[1] + t * (nut[1] - saddle[1]));
}

/** The nut or the saddle line seen with the neck up, much enlarged: strings by number, measured from the bass side. */
export function acrossSketch(view: SlotCardsView, where: "nut" | "saddle"): Drawing {
  const { strings, hand, board } = view;
  const places = strings.map((s) => (where === "nut" ? s.acrossNut : s.acrossSaddle));
  const { bass, treble } = board.nutLine;
  const whole = where === "nut" ? Math.hypot(treble[0] - bass[0], treble[1] - bass[1]) : Math.max(...places);
  const margin = 16;
  const scale = (widthMm - 2 * margin) / whole;
  const at = (across: number) =>
    hand === "right" ? margin + across * scale : widthMm - margin - across * scale;
  const from = at(0);
  return {
    widthMm,
    heightMm: 34,
    title: where === "nut" ? "Strings across the nut" : "Strings across the saddle line",
    description: `${where === "nut" ? "The nut" : "The saddle line"} seen with the neck up, the bass side to the ${hand === "right" ? "left" : "right"}; every string is measured from ${where === "nut" ? "the bass edge of the board" : "the lowest string"}.`,
    marks: [
      group(where, [
        where === "nut"
          ? filled([Float64Array.of(from, 18, at(whole), 18, at(whole), 27, from, 27)], "paper", {
              ink: "ink",
              widthMm: lineMm.bold,
            })
          : stroked([line(Math.min(from, at(whole)) - 6, 22, Math.max(from, at(whole)) + 6, 22)], {
              ink: "ink",
              widthMm: lineMm.fine,
              dashMm: [2, 1],
            }),
      ]),
      ...strings.map((s, i) => {
        const x = at(places[i]);
        return group(`string ${s.string}`, [
          stroked([line(x, 12, x, where === "nut" ? 27 : 26)], { ink: "accent", widthMm: lineMm.bold }),
          words(String(s.string), x, 9.5, 4.6, { anchor: "middle", bold: true }),
        ]);
      }),
      words(where === "nut" ? "bass edge" : "", from, 32, 3.6, { anchor: "middle", ink: "soft" }),
      words(where === "nut" ? "treble edge" : "", at(whole), 32, 3.6, { anchor: "middle", ink: "soft" }),
    ],
  };
}
