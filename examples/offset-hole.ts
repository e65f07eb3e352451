/**
 * What do an offset hole and radial braces change? Example A against example B with the same wood, thicknesses, finish, strings and
 * fittings (examples/sameWood.ts): prints a table and draws the main modes and the responses of both for docs/offset-hole.md.
 * Run: node tools/run.mjs examples/offset-hole.ts [mesh size in mm]
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { modeSheet } from "#engine/drawings";
import { defaultBodySettings, type Voice, voiceView } from "#engine/pipeline";
import {
  type Drawing,
  group,
  line,
  lineMm,
  type Mark,
  stroked,
  words,
} from "../engine/drawings/displayList.ts";
import { svgFile } from "../engine/drawings/svg.ts";
import { centredCrossed, offsetRadial, voiceOf } from "./sameWood.ts";

const size = Number(process.argv[2] ?? 8.2) / 1000;
const settings = { ...defaultBodySettings, meshSize: { top: size, back: size, side: 1.7 * size } };
const pictures = new URL("../docs/pictures/", import.meta.url);
const names = ["main air", "main top", "main back"] as const;
type Name = (typeof names)[number];

const modeOf = (voice: Voice, name: Name): number => voice.body.response.name.indexOf(name);
const degrees = (angle: number): string => ((angle * 180) / Math.PI).toFixed(2);
const percent = (share: number): string => (100 * share).toFixed(0);
const signed = (share: number): string => `${share < 0 ? "-" : "+"}${Math.abs(100 * share).toFixed(0)}`;

/** Rows of the table: what, and its value for one voice. */
const rows: readonly (readonly [string, (v: Voice) => string])[] = [
  ["mass, kg", (v) => v.body.modes.totalMass.toFixed(2)],
  ["area of the hole, cm2", (v) => (1e4 * polygonAreaOf(v)).toFixed(1)],
  ["air in the box, litres net", (v) => (1000 * v.body.parts.cavity!.volume[0]!).toFixed(1)],
  ["hole with every wall still, Hz", (v) => v.body.response.rigidWallAir!.frequency.toFixed(0)],
  ...names.flatMap((name) => {
    const at = (row: (v: Voice, i: number) => string) => (v: Voice) => {
      const i = modeOf(v, name);
      return i < 0 ? "none" : row(v, i);
    };
    return [
      [
        `${name}: Hz, Q`,
        at((v, i) => `${v.body.response.frequency[i]!.toFixed(1)}, ${v.body.response.q[i]!.toFixed(0)}`),
      ],
      [
        `${name}: effective mass at the saddle, kg`,
        at((v, i) => v.body.response.effectiveMass[i]?.toFixed(2) ?? "none"),
      ],
      [
        `${name}: flow of upper, middle, lower third of the top, %`,
        at((v, i) =>
          [0, 1, 2].map((k) => signed(v.body.response.volumeVelocityShareByThird[3 * i + k]!)).join(", "),
        ),
      ],
      [`${name}: hole flow ratio`, at((v, i) => v.body.response.holeFlowRatio[i]!.toFixed(2))],
      [
        `${name}: loss in wood, at hole and walls, radiated, %`,
        at((v, i) => [0, 1, 2].map((k) => percent(v.body.response.lossShare[3 * i + k]!)).join(", ")),
      ],
    ] as (readonly [string, (v: Voice) => string])[];
  }),
  ["modes of body and air to 1 kHz", (v) => `${v.body.response.frequency.filter((f) => f <= 1000).length}`],
  ["upper third's share of the top's motion, %", (v) => (100 * v.activeTop.total).toFixed(1)],
  ["level, mean of frets 0 to 15, dB", (v) => meanLevel(v).toFixed(1)],
  ["level, spread of frets 0 to 15, dB", (v) => v.board.evenness.levelSpreadDb?.toFixed(1) ?? "none"],
  ["decay, median of frets 0 to 15, s", (v) => medianDecay(v).toFixed(1)],
  [
    "notes of frets 0 to 15 with a wolf index of 1 or more",
    (v) => `${played(v).filter((n) => (n.wolfIndex ?? 0) >= 1).length} of ${played(v).length}`,
  ],
  ["pull of the strings, N", (v) => v.strings.reduce((sum, s) => sum + s.tension, 0).toFixed(0)],
  ["bridge's rotation, degrees", (v) => degrees(v.body.load.figures.bridgeRotation)],
  ["neck block's tilt, degrees", (v) => degrees(v.body.load.figures.blockRotation[1])],
  ["neck block's twist, degrees", (v) => degrees(v.body.load.figures.blockRotation[0])],
];

function polygonAreaOf({ geometry }: Voice): number {
  const p = geometry.plan.holePolygon;
  let twice = 0;
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    twice += p[i]! * p[j + 1]! - p[j]! * p[i + 1]!;
  }
  return Math.abs(twice) / 2;
}

function played(v: Voice) {
  return v.board.noteBoard.filter((note) => note.fret <= 15);
}

function meanLevel(v: Voice): number {
  const levels = played(v).flatMap((note) => (note.levelDb === null ? [] : [note.levelDb]));
  return levels.reduce((sum, level) => sum + level, 0) / levels.length;
}

function medianDecay(v: Voice): number {
  const decays = played(v)
    .flatMap((note) => (note.decayS === null ? [] : [note.decayS]))
    .sort((a, b) => a - b);
  return decays[decays.length >> 1]!;
}

/** The same marks `x`, `y` mm further on. */
function moved(mark: Mark, x: number, y: number): Mark {
  if (mark.kind === "group") return { ...mark, marks: mark.marks.map((m) => moved(m, x, y)) };
  if (mark.kind === "text") return { ...mark, xMm: mark.xMm + x, yMm: mark.yMm + y };
  return { ...mark, pieces: mark.pieces.map((p) => p.map((v, i) => v + (i % 2 === 0 ? x : y))) };
}

/** Main air, top and back of every voice in one row each. */
function shapes(voices: readonly (readonly [string, Voice])[]): Drawing {
  const widthMm = 6 + 3 * 50;
  let y = 4;
  const marks: Mark[] = [];
  for (const [title, voice] of voices) {
    const view = voiceView(voice);
    marks.push(words(title, 6, y + 2, 4, { bold: true }));
    let deepest = 0;
    names.forEach((name, column) => {
      const i = modeOf(voice, name);
      const sheet = i < 0 ? null : modeSheet(view.modes[i]!, view);
      if (sheet === null) return;
      const x = 6 + 50 * column;
      marks.push(
        words(`${name}, ${view.modes[i]!.frequencyHz.toFixed(0)} Hz`, x, y + 8, 3.4),
        group(
          name,
          sheet.marks.map((mark) => moved(mark, x, y + 9)),
        ),
      );
      deepest = Math.max(deepest, sheet.heightMm);
    });
    y += 9 + deepest + 7;
  }
  return {
    widthMm,
    heightMm: y - 4,
    title: "Main modes of both",
    description: `Main air, main top and main back of ${voices.map(([title]) => title).join(" and ")}.`,
    marks,
  };
}

/** Mobility at the saddle and level at 1 m of both voices, over frequency. */
function responses(voices: readonly (readonly [string, Voice])[]): Drawing {
  const [left, top, width, height, between] = [22, 12, 140, 46, 6];
  const inks = ["accent", "ink"] as const;
  const curves = voices.map(([, voice]) => voiceView(voice).response);
  const [low, high] = [60, 1000];
  const x = (f: number) => left + (width * Math.log(f / low)) / Math.log(high / low);
  const panels = [
    {
      of: (k: number) => curves[k]!.mobility.map((v) => 20 * Math.log10(1000 * v)),
      title: "saddle's speed, dB re 1 mm/s, for 1 N",
    },
    {
      of: (k: number) => curves[k]!.pressure.map((p) => 20 * Math.log10(p / 20e-6)),
      title: "level at 1 m, dB, for 1 N",
    },
  ];
  const marks: Mark[] = voices.flatMap(([title], k): Mark[] => [
    stroked([line(left + 70 * k, 6, left + 10 + 70 * k, 6)], { ink: inks[k]!, widthMm: lineMm.bold }),
    words(title, left + 12 + 70 * k, 7, 3.4),
  ]);
  panels.forEach(({ of, title }, p) => {
    const y0 = top + p * (height + between);
    const values = curves.map((_, k) => of(k));
    const all = values.flatMap((v) => Array.from(v));
    const most = 10 * Math.ceil(Math.max(...all) / 10);
    const least = Math.max(most - 60, 10 * Math.floor(Math.min(...all) / 10));
    const y = (v: number) => y0 + (height * (most - v)) / (most - least);
    for (let v = least; v <= most; v += 10) {
      marks.push(
        stroked([line(left, y(v), left + width, y(v))], { ink: "faint", widthMm: lineMm.hair }),
        words(String(v), left - 2, y(v) + 1.1, 3, { anchor: "end", ink: "soft" }),
      );
    }
    values.forEach((v, k) => {
      // a dip below the foot leaves a gap
      const pieces: number[][] = [[]];
      curves[k]!.frequency.forEach((f, i) => {
        if (v[i]! >= least) pieces[pieces.length - 1]!.push(x(f), y(v[i]!));
        else if (pieces[pieces.length - 1]!.length > 0) pieces.push([]);
      });
      const drawn = pieces.filter((piece) => piece.length > 2).map((piece) => Float64Array.from(piece));
      marks.push(stroked(drawn, { ink: inks[k]!, widthMm: lineMm.medium }));
    });
    marks.push(words(title, 5, y0 + height / 2, 3.2, { anchor: "middle", turnDeg: -90 }));
  });
  const bottom = top + 2 * height + between;
  for (const f of [60, 80, 100, 150, 200, 300, 400, 600, 800, 1000]) {
    marks.push(
      stroked([line(x(f), top, x(f), bottom)], { ink: "faint", widthMm: lineMm.hair }),
      words(String(f), x(f), bottom + 5, 3, { anchor: "middle", ink: "soft" }),
    );
  }
  marks.push(words("Hz", left - 4, bottom + 5, 3, { anchor: "end", ink: "soft" }));
  return {
    widthMm: left + width + 6,
    heightMm: bottom + 8,
    title: "Responses of both",
    description: `Speed of the saddle and level at 1 m for 1 N, 60 to 1,000 Hz: ${voices.map(([title]) => title).join(" and ")}.`,
    marks,
  };
}

const voices = [
  ["A: offset hole, radial braces", await voiceOf(offsetRadial(), settings)],
  ["B: centre hole, crossed braces", await voiceOf(centredCrossed(), settings)],
] as const;
const write = (cells: readonly string[]) => process.stdout.write(`| ${cells.join(" | ")} |\n`);
write(["", ...voices.map(([title]) => title)]);
write(["---", "---", "---"]);
for (const [what, of] of rows) write([what, ...voices.map(([, voice]) => of(voice))]);
process.stdout.write(`\n${voices.map(([, v]) => `${v.body.counts.shellNodes} shell nodes`).join(", ")}\n`);
mkdirSync(pictures, { recursive: true });
writeFileSync(new URL("offset-hole-modes.svg", pictures), svgFile(shapes(voices)));
writeFileSync(new URL("offset-hole-response.svg", pictures), svgFile(responses(voices)));
