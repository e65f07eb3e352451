import type { VoiceView } from "#engine/drawings";
import {
  type Curve,
  curvePath,
  decadesOf,
  levelCurve,
  type ModeName,
  type NoteTick,
  naturalNotes,
  openStrings,
  pitchScale,
  placedNames,
  type Scale,
  sayNote,
  saySpeed,
  speedCurve,
  tensOf,
  valueAt,
} from "./responseScale.ts";

/** One of the two charts that stand over each other. */
export interface Panel {
  readonly top: number;
  readonly bottom: number;
  readonly y: Scale;
  /** Lines of its scale, with what stands beside them. */
  readonly lines: readonly { readonly y: number; readonly text: string }[];
  readonly path: string;
  /** Of the second guitar; null: there is none. */
  readonly otherPath: string | null;
  /** Hz, from where on nothing is foreseen. */
  readonly to: number;
}

/** The response laid out at a width: everything that is drawn, px. */
export interface ResponseFrame {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly axisY: number;
  readonly low: number;
  readonly high: number;
  readonly x: Scale;
  readonly speed: Panel;
  readonly level: Panel;
  readonly notes: readonly NoteTick[];
  readonly hertz: readonly number[];
  readonly names: readonly ModeName[];
  readonly strings: ReturnType<typeof openStrings>;
  /** Places of the curves at a frequency. */
  readonly dotsAt: (frequency: number) => readonly { readonly y: number; readonly second: boolean }[];
  /** The curves at a frequency, in one breath. */
  readonly say: (frequency: number) => string;
  readonly curves: {
    readonly speed: Curve;
    readonly level: Curve;
    readonly otherSpeed: Curve | null;
    readonly otherLevel: Curve | null;
  };
}

const [left, rightRoom] = [62, 22];
const namesTop = 58;
const [speedHeight, levelHeight, stringsHeight] = [190, 160, 40];
const letterPx = 7.6;

export function responseFrame(view: VoiceView, other: VoiceView | null, widthPx: number): ResponseFrame {
  const a4 = view.a4 ?? 440;
  const [first] = view.response.frequency;
  const lowest = openStrings(view.noteBoard)[0]?.frequency ?? 60;
  const low = Math.min(first ?? 60, 0.97 * lowest);
  // On to 1 kHz even where the curves end before it: what is not foreseen is shown as such.
  const high = Math.max(1000, view.response.frequency.at(-1) ?? 0);
  const right = widthPx - rightRoom;
  const x = pitchScale(low, high, left, right);
  const curves = {
    speed: speedCurve(view),
    level: levelCurve(view),
    otherSpeed: other === null ? null : speedCurve(other),
    otherLevel: other === null ? null : levelCurve(other),
  };
  const speedTop = namesTop;
  const levelTop = speedTop + speedHeight + stringsHeight;
  const axisY = levelTop + levelHeight;
  const speed = speedPanel(curves.speed, curves.otherSpeed, x, speedTop);
  const level = levelPanel(curves.level, curves.otherLevel, x, levelTop);
  const shown = view.modes
    .map(({ frequencyHz, name }, index) => ({ frequencyHz, name, index }))
    .filter(({ frequencyHz }) => frequencyHz >= low && frequencyHz <= Math.min(high, view.modesToHz));
  return {
    widthPx,
    heightPx: axisY + 62,
    left,
    right,
    top: speedTop,
    axisY,
    low,
    high,
    x,
    speed,
    level,
    notes: naturalNotes(low, high, a4),
    hertz: [60, 80, 100, 150, 200, 300, 400, 600, 800, 1000].filter((f) => f >= low && f <= high),
    names: placedNames(shown, x, [left, right], letterPx),
    strings: openStrings(view.noteBoard),
    curves,
    dotsAt: (frequency) =>
      [
        [curves.speed, speed, false],
        [curves.level, level, false],
        [curves.otherSpeed, speed, true],
        [curves.otherLevel, level, true],
      ].flatMap(([curve, panel, second]) => {
        const value = curve === null ? null : valueAt(curve as Curve, frequency);
        const y = value === null ? null : (panel as Panel).y(value);
        return y === null || y > (panel as Panel).bottom ? [] : [{ y, second: second as boolean }];
      }),
    say: (frequency) => {
      const [v, dB] = [valueAt(curves.speed, frequency), valueAt(curves.level, frequency)];
      return [
        `${sayNote(frequency, a4)}, ${frequency.toFixed(frequency < 200 ? 1 : 0)} Hz`,
        v === null ? "motion not foreseen" : saySpeed(v),
        dB === null ? "level not foreseen" : `${dB.toFixed(0)} dB`,
      ].join(", ");
    },
  };
}

function speedPanel(curve: Curve, other: Curve | null, x: Scale, top: number): Panel {
  const [low, high] = decadesOf(other === null ? [curve] : [curve, other]);
  const bottom = top + speedHeight;
  const y: Scale = (v) => bottom - (speedHeight * Math.log10(v / low)) / Math.log10(high / low);
  const decades = Math.round(Math.log10(high / low));
  return {
    top,
    bottom,
    y,
    lines: Array.from({ length: decades + 1 }, (_, k) => ({
      y: y(low * 10 ** k),
      text: String(Number((low * 10 ** k).toPrecision(1))),
    })),
    path: curvePath(curve, x, y, bottom),
    otherPath: other === null ? null : curvePath(other, x, y, bottom),
    to: curve.to,
  };
}

function levelPanel(curve: Curve, other: Curve | null, x: Scale, top: number): Panel {
  const [low, high] = tensOf(other === null ? [curve] : [curve, other]);
  const bottom = top + levelHeight;
  const y: Scale = (dB) => bottom - (levelHeight * (dB - low)) / (high - low);
  const step = high - low > 40 ? 20 : 10;
  return {
    top,
    bottom,
    y,
    lines: Array.from({ length: Math.floor((high - low) / step) + 1 }, (_, k) => ({
      y: y(low + k * step),
      text: String(low + k * step),
    })),
    path: curvePath(curve, x, y, bottom),
    otherPath: other === null ? null : curvePath(other, x, y, bottom),
    to: curve.to,
  };
}
