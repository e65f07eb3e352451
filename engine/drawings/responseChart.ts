import { referenceSoundPressure } from "#engine/units";
import { frequencySigma, type Knowledge, nearestNote } from "#engine/verdicts";
import { box, type Drawing, filled, group, line, lineMm, type Mark, stroked, words } from "./displayList.ts";
import { hatch } from "./hatch.ts";
import type { ModeView, VoiceView } from "./voiceView.ts";

const widthMm = 186;
const left = 25;
const right = 6;
const plotWidth = widthMm - left - right;
const mobilityTop = 17;
const mobilityHeight = 44;
const pressureTop = mobilityTop + mobilityHeight + 7;
const pressureHeight = 36;
const axisY = pressureTop + pressureHeight;

type ChartView = Pick<VoiceView, "response" | "modes" | "validToHz" | "modesToHz" | "knowledge" | "a4">;

/** Sheet x (mm) of a frequency on the chart's logarithmic axis. */
export function chartX(frequency: number, low: number, high: number): number {
  return left + (plotWidth * Math.log(frequency / low)) / Math.log(high / low);
}

/**
 * What the body answers to a force at the saddle: how fast the saddle moves, and how loud it is at one metre, over a
 * logarithmic axis of frequency with the notes written along it. Beyond the range in which the model foresees either,
 * the chart is hatched and bears no curve. Main modes are named, with their range of one standard deviation.
 */
export function responseChart(view: ChartView): Drawing {
  const { frequency, mobility, pressure } = view.response;
  const low = frequency[0];
  // The axis runs on to 1 kHz even where the curves end before it: what is not foreseen is shown as such.
  const high = Math.max(1000, frequency[frequency.length - 1]);
  const x = (f: number) => chartX(f, low, high);
  const millimetres = mobility.map((v) => v * 1000);
  const levels = pressure.map((p) => 20 * Math.log10(p / referenceSoundPressure));
  const decades = decadesOf(millimetres);
  const yMobility = (v: number) =>
    mobilityTop + mobilityHeight * (1 - Math.log10(v / decades[0]) / Math.log10(decades[1] / decades[0]));
  const tens = tensOf(levels, frequency, view.validToHz);
  const yPressure = (dB: number) => pressureTop + pressureHeight * (1 - (dB - tens[0]) / (tens[1] - tens[0]));
  /** The pieces of a curve that lie on its scale: a dip below the foot leaves a gap, for a line there would be a value. */
  const curve = (
    values: Float64Array,
    y: (v: number) => number,
    to: number,
    foot: number,
  ): Float64Array[] => {
    const pieces: number[][] = [[]];
    for (let i = 0; i < frequency.length && frequency[i] <= to; i++) {
      const at = y(values[i]);
      if (at <= foot + 1e-9) pieces[pieces.length - 1].push(x(frequency[i]), at);
      else if (pieces[pieces.length - 1].length > 0) pieces.push([]);
    }
    return pieces.filter((piece) => piece.length > 2).map((piece) => Float64Array.from(piece));
  };
  return {
    widthMm,
    heightMm: axisY + 13,
    title: "Response",
    description: `Speed of the saddle's midpoint for a force of 1 N, and sound pressure level at 1 m, from ${low.toFixed(0)} to ${high.toFixed(0)} Hz; the level is foreseen to ${view.validToHz.toFixed(0)} Hz, the motion to ${view.modesToHz.toFixed(0)} Hz.`,
    marks: [
      ...noteGrid(low, high, x, view.a4 ?? 440),
      group("mobility scale", decadeLines(decades, yMobility)),
      group("pressure scale", tenLines(tens, yPressure)),
      beyond("mobility not foreseen", view.modesToHz, high, x, mobilityTop, mobilityHeight),
      beyond("pressure not foreseen", view.validToHz, high, x, pressureTop, pressureHeight),
      ...modeFlags(view.modes, view.knowledge, low, Math.min(high, view.modesToHz), x),
      group("mobility", [
        stroked(curve(millimetres, yMobility, view.modesToHz, mobilityTop + mobilityHeight), {
          ink: "ink",
          widthMm: lineMm.medium,
        }),
      ]),
      group("pressure", [
        stroked(curve(levels, yPressure, view.validToHz, pressureTop + pressureHeight), {
          ink: "ink",
          widthMm: lineMm.medium,
        }),
      ]),
      frame(mobilityTop, mobilityHeight),
      frame(pressureTop, pressureHeight),
      sideWords("saddle's speed", "mm/s for 1 N", mobilityTop + mobilityHeight / 2),
      sideWords("level at 1 m", "dB for 1 N", pressureTop + pressureHeight / 2),
    ],
  };
}

/** Whole decades that hold the values, at least one. */
function decadesOf(values: Float64Array): readonly [number, number] {
  const found = [...values].filter((v) => v > 0 && Number.isFinite(v));
  if (found.length === 0) return [1, 10];
  const low = Math.floor(Math.log10(Math.min(...found)));
  const high = Math.ceil(Math.log10(Math.max(...found)));
  return [10 ** low, 10 ** Math.max(high, low + 1)];
}

/** Whole tens of dB that hold the part of the curve that is drawn; not deeper than 60 dB under its peak. */
function tensOf(levels: Float64Array, frequency: Float64Array, to: number): readonly [number, number] {
  const found = [...levels].filter((dB, i) => frequency[i] <= to && Number.isFinite(dB));
  if (found.length === 0) return [0, 10];
  const high = Math.ceil(Math.max(...found) / 10) * 10;
  const low = Math.floor(Math.min(...found) / 10) * 10;
  return [Math.min(high - 10, Math.max(low, high - 60)), high];
}

/** A hair line for every natural note and a stronger one for every C, with the names below; hertz below the names. */
function noteGrid(low: number, high: number, x: (f: number) => number, a4: number): readonly Mark[] {
  const marks: Mark[] = [];
  for (let midi = 24; midi < 108; midi++) {
    const f = a4 * 2 ** ((midi - 69) / 12);
    const { note } = nearestNote(f, a4);
    if (f < low || f > high || note.includes("#")) continue;
    const isC = note.startsWith("C");
    const at = x(f);
    marks.push(
      stroked([line(at, mobilityTop, at, mobilityTop + mobilityHeight), line(at, pressureTop, at, axisY)], {
        ink: "faint",
        widthMm: isC ? lineMm.fine : lineMm.hair,
      }),
    );
    // B stands too close to the C that carries the octave's number.
    if (note.startsWith("B")) continue;
    marks.push(
      words(isC ? note : note[0], at, axisY + 4.2, isC ? 3.4 : 2.9, {
        anchor: "middle",
        bold: isC,
        ink: isC ? "ink" : "soft",
      }),
    );
  }
  const hertz = [50, 60, 80, 100, 150, 200, 300, 400, 600, 800, 1000].filter((f) => f >= low && f <= high);
  return [
    group("notes", marks),
    group(
      "hertz",
      hertz.flatMap((f) => [
        stroked([line(x(f), axisY + 6.2, x(f), axisY + 7.2)], { ink: "soft", widthMm: lineMm.thin }),
        words(String(f), x(f), axisY + 10.4, 3.2, { anchor: "middle", ink: "soft" }),
      ]),
    ),
    stroked([line(left, axisY + 6.2, left + plotWidth, axisY + 6.2)], { ink: "soft", widthMm: lineMm.hair }),
    words("Hz", left - 5, axisY + 10.4, 3.2, { anchor: "end", ink: "soft" }),
    words("note", left - 5, axisY + 4.2, 3.2, { anchor: "end", ink: "soft" }),
  ];
}

function decadeLines([low, high]: readonly [number, number], y: (v: number) => number): readonly Mark[] {
  const marks: Mark[] = [];
  for (let v = low; v <= high * 1.001; v *= 10) {
    marks.push(
      stroked([line(left, y(v), left + plotWidth, y(v))], { ink: "faint", widthMm: lineMm.thin }),
      words(sayPower(v), left - 1.6, y(v) + 1, 3.2, { anchor: "end", ink: "soft" }),
    );
  }
  return marks;
}

function sayPower(value: number): string {
  return value >= 1 ? value.toFixed(0) : value.toFixed(Math.min(6, Math.ceil(-Math.log10(value) - 1e-9)));
}

function tenLines([low, high]: readonly [number, number], y: (v: number) => number): readonly Mark[] {
  const marks: Mark[] = [];
  const step = high - low > 40 ? 20 : 10;
  for (let dB = low; dB <= high; dB += step) {
    marks.push(
      stroked([line(left, y(dB), left + plotWidth, y(dB))], { ink: "faint", widthMm: lineMm.thin }),
      words(String(dB), left - 1.6, y(dB) + 1, 3.2, { anchor: "end", ink: "soft" }),
    );
  }
  return marks;
}

function beyond(
  name: string,
  from: number,
  high: number,
  x: (f: number) => number,
  y: number,
  height: number,
): Mark {
  if (from >= high) return group(name, []);
  const start = Math.max(left, x(from));
  const area = box(start, y, left + plotWidth - start, height);
  const middleX = (start + left + plotWidth) / 2;
  const label =
    plotWidth + left - start > 30
      ? [
          filled([box(middleX - 15, y + height / 2 - 3, 30, 5.6)], "paper"),
          words("not foreseen", middleX, y + height / 2 + 1, 3.1, { anchor: "middle", ink: "soft" }),
        ]
      : [];
  return group(name, [
    stroked(hatch(area, 1.6), { ink: "faint", widthMm: lineMm.thin }),
    stroked([line(start, y, start, y + height)], { ink: "soft", widthMm: lineMm.fine, dashMm: [1.2, 0.8] }),
    ...label,
  ]);
}

/** A tick for every body mode above the chart; main modes by name, with a bar over their range of one sigma. */
function modeFlags(
  modes: readonly ModeView[],
  knowledge: Knowledge,
  low: number,
  high: number,
  x: (f: number) => number,
): readonly Mark[] {
  const shown = modes.filter((m) => m.frequencyHz >= low && m.frequencyHz <= high);
  const ticks = shown.map((m) =>
    stroked([line(x(m.frequencyHz), mobilityTop - 2.2, x(m.frequencyHz), mobilityTop)], {
      ink: m.name === null ? "soft" : "accent",
      widthMm: m.name === null ? lineMm.thin : lineMm.bold,
    }),
  );
  const named = placedNames(shown, x).flatMap(({ mode, text, at, row }) => {
    const sigma = frequencySigma(mode.name, knowledge);
    const y = mobilityTop - 4.2 - 5.6 * row;
    const bar = line(
      Math.max(left, x(mode.frequencyHz * (1 - sigma))),
      y + 1.6,
      x(mode.frequencyHz * (1 + sigma)),
      y + 1.6,
    );
    return [
      group(`range of the ${mode.name}`, [stroked([bar], { ink: "accent", widthMm: lineMm.bold })]),
      ...(row === 0
        ? []
        : [stroked([line(at, y + 1.6, at, mobilityTop - 2.2)], { ink: "accent", widthMm: lineMm.hair })]),
      words(text, at, y, 3, { anchor: "middle", ink: "accent" }),
    ];
  });
  return [group("modes", ticks), ...named];
}

interface PlacedName {
  readonly mode: ModeView;
  readonly text: string;
  /** mm on the sheet. */
  readonly at: number;
  readonly row: number;
}

/** Names in two rows, main modes first; a name without room is left to its tick. In the order of frequency. */
function placedNames(shown: readonly ModeView[], x: (f: number) => number): readonly PlacedName[] {
  const isMain = (m: ModeView) => m.name?.startsWith("main") ?? false;
  const wanted = shown.filter((m) => m.name !== null);
  const placed: (PlacedName & { readonly half: number })[] = [];
  for (const mode of [...wanted.filter(isMain), ...wanted.filter((m) => !isMain(m))]) {
    const text = `${mode.name} ${mode.frequencyHz.toFixed(0)} Hz`;
    const half = text.length * 0.85;
    const at = x(mode.frequencyHz);
    const row = [0, 1].find((r) =>
      placed.every((other) => other.row !== r || Math.abs(other.at - at) > other.half + half + 2),
    );
    if (row !== undefined) placed.push({ mode, text, at, half, row });
  }
  return placed.sort((a, b) => a.at - b.at);
}

function frame(y: number, height: number): Mark {
  return stroked([box(left, y, plotWidth, height)], { ink: "ink", widthMm: lineMm.fine }, true);
}

function sideWords(what: string, unit: string, y: number): Mark {
  return group("side words", [
    words(what, 4.2, y, 3.1, { anchor: "middle", turnDeg: -90 }),
    words(unit, 8.8, y, 3.2, { anchor: "middle", turnDeg: -90, ink: "soft" }),
  ]);
}
