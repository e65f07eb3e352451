import { type Drawing, filled, group, line, lineMm, type Mark, stroked, words } from "../displayList.ts";
import { ring } from "./ring.ts";

const widthMm = 186;
const heightMm = 40;

type Pair = readonly [number, number];

const pen = { ink: "ink", widthMm: lineMm.medium } as const;
const string = { ink: "accent", widthMm: lineMm.bold } as const;

/** Drawn for a neck to the left; turned about for a left-handed guitar, whose neck lies to the right. */
function facing(hand: "right" | "left"): (x: number) => number {
  return hand === "right" ? (x) => x : (x) => widthMm - x;
}

function chainOf(hand: "right" | "left", points: readonly Pair[]): Float64Array {
  const at = facing(hand);
  return Float64Array.from(points.flatMap(([x, y]) => [at(x), y]));
}

/** A dimension between two heights at one station, its letter in a ring beside it. */
function gapMark(
  hand: "right" | "left",
  letter: string,
  x: number,
  upper: number,
  lower: number,
  ringAt: Pair,
): Mark {
  const at = facing(hand);
  const px = at(x);
  const slash = (y: number) => line(px - 1, y + 1, px + 1, y - 1);
  return group(`dimension ${letter}`, [
    stroked([line(px, upper, px, lower), slash(upper), slash(lower)], { ink: "ink", widthMm: lineMm.fine }),
    stroked([line(px, upper, at(ringAt[0]), ringAt[1])], { ink: "ink", widthMm: lineMm.hair }),
    ...ring(letter, at(ringAt[0]), ringAt[1]),
  ]);
}

/** The neck from the side, heights far too large to be seen: A relief, B string over the crowns at the nut, C action at fret 12. */
export function neckSketch(hand: "right" | "left"): Drawing {
  const [nut, end] = [16, 176];
  const bow = (x: number) => 31 + 3.2 * Math.sin((Math.PI * Math.min(1, (x - nut) / 105)) / 1);
  const frets = Array.from({ length: 18 }, (_, i) => nut + 200 * (1 - 2 ** (-(i + 1) / 12)));
  const strung = (x: number) => 27.5 - (15 * (x - nut)) / (end - nut);
  const at = facing(hand);
  const twelfth = frets[11];
  const deepest = nut + 52.5;
  const board = [
    ...Array.from({ length: 61 }, (_, i): Pair => {
      const x = nut + ((end - nut) * i) / 60;
      return [x, bow(x) + 1.6];
    }),
    [end, 39] as Pair,
    [nut, 39] as Pair,
  ];
  const straight = line(at(nut + 2), bow(nut), at(twelfth + 24), bow(twelfth + 24));
  return {
    widthMm,
    heightMm,
    title: "Neck from the side, not to scale",
    description:
      "The fingerboard from the side with its frets and one string, heights drawn far too large. A is the gap between a straightedge on the frets and the fret it misses most, B the gap under the string at the nut, C the gap under the string at fret 12.",
    marks: [
      group("board", [filled([chainOf(hand, board)], "spruce", pen)]),
      group("frets", [
        filled(
          frets.map((x) =>
            chainOf(hand, [
              [x - 0.7, bow(x) + 1.6],
              [x - 0.5, bow(x)],
              [x + 0.5, bow(x)],
              [x + 0.7, bow(x) + 1.6],
            ]),
          ),
          "ink",
        ),
      ]),
      group("nut", [
        filled(
          [
            chainOf(hand, [
              [nut - 5, 39],
              [nut - 5, 25.5],
              [nut, 27.5],
              [nut, 39],
            ]),
          ],
          "paper",
          pen,
        ),
      ]),
      group("string", [
        stroked(
          [
            chainOf(hand, [
              [nut - 12, 30],
              [nut - 5, 26.3],
              [nut, strung(nut)],
              [end + 6, strung(end + 6)],
            ]),
          ],
          string,
        ),
      ]),
      group("straightedge", [stroked([straight], { ink: "soft", widthMm: lineMm.medium, dashMm: [3, 1.2] })]),
      gapMark(hand, "A", deepest, bow(nut), bow(deepest), [deepest - 12, 11]),
      gapMark(hand, "B", nut + 4, strung(nut + 4), bow(nut), [nut + 12, 11]),
      gapMark(hand, "C", twelfth, strung(twelfth), bow(twelfth), [twelfth - 14, 8]),
      words("12", at(twelfth), bow(twelfth) + 6, 3.4, { anchor: "middle" }),
      words("nut", at(nut - 2.5), 23, 3.4, { anchor: "middle", ink: "soft" }),
      words("not to scale", at(end), 6, 3.4, { anchor: hand === "right" ? "end" : "start", ink: "soft" }),
    ],
  };
}

/** The bridge from the side: D string over the top, E straightedge over the bridge, F turn of the string over the saddle. */
export function saddleEndSketch(hand: "right" | "left"): Drawing {
  const at = facing(hand);
  const top = 36;
  const [front, back, face] = [96, 142, 24];
  const [saddle, crown] = [112, 14];
  const over = 22;
  return {
    widthMm,
    heightMm,
    title: "Bridge from the side, not to scale",
    description:
      "The bridge on the top from the side. D is the height of the string over the top at the saddle, E the gap between a straightedge laid on the frets and the bridge's upper face, F the angle by which the string turns over the saddle.",
    marks: [
      group("top", [stroked([line(at(10), top, at(178), top)], { ink: "ink", widthMm: lineMm.heavy })]),
      group("bridge", [
        filled(
          [
            chainOf(hand, [
              [front, top],
              [front + 2, face],
              [back - 2, face],
              [back, top],
            ]),
          ],
          "rosewood",
          pen,
        ),
      ]),
      group("saddle", [
        filled(
          [
            chainOf(hand, [
              [saddle - 2, face + 6],
              [saddle - 2, crown + 1],
              [saddle, crown],
              [saddle + 2, crown + 1],
              [saddle + 2, face + 6],
            ]),
          ],
          "paper",
          pen,
        ),
      ]),
      group("string", [
        stroked(
          [
            chainOf(hand, [
              [10, 17.5],
              [saddle, crown],
              [130, face],
              [131, face + 8],
            ]),
          ],
          string,
        ),
      ]),
      group("carried on", [
        stroked(
          [
            chainOf(hand, [
              [saddle, crown],
              [saddle + 30, crown - 1.03],
            ]),
          ],
          { ink: "soft", widthMm: lineMm.fine, dashMm: [2, 1] },
        ),
      ]),
      group("straightedge", [
        stroked(
          [
            chainOf(hand, [
              [10, 25.2],
              [front + 10, over],
            ]),
          ],
          { ink: "soft", widthMm: lineMm.medium, dashMm: [3, 1.2] },
        ),
      ]),
      gapMark(hand, "D", 78, crown + 1.15, top, [66, 8]),
      gapMark(hand, "E", front + 5, over + 0.1, face, [front - 8, 8]),
      group("dimension F", [
        stroked([chainOf(hand, arc(saddle, crown, 16, -0.034, 0.507))], { ink: "ink", widthMm: lineMm.fine }),
        ...ring("F", at(saddle + 22), crown + 4),
      ]),
      words("top", at(14), top - 1.6, 3.4, { ink: "soft", anchor: hand === "right" ? "start" : "end" }),
      words("straightedge on the frets", at(14), 29.4, 3.4, {
        ink: "soft",
        anchor: hand === "right" ? "start" : "end",
      }),
      words("not to scale", at(176), 6, 3.4, { anchor: hand === "right" ? "end" : "start", ink: "soft" }),
    ],
  };
}

function arc(x: number, y: number, radius: number, from: number, to: number): readonly Pair[] {
  return Array.from({ length: 13 }, (_, i): Pair => {
    const angle = from + ((to - from) * i) / 12;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}
