import type { ModeView, VoiceView } from "#engine/drawings";
import type { NoteRow } from "#engine/notes";
import { referenceSoundPressure } from "#engine/units";
import { frequencySigma, nearestNote } from "#engine/verdicts";

/** A value's place on the drawing, px. */
export type Scale = (value: number) => number;

/** A curve to be drawn over frequency, and how far up it is foreseen (Hz). */
export interface Curve {
  readonly frequency: Float64Array;
  readonly values: Float64Array;
  readonly to: number;
}

/** Speed of the saddle for a force of 1 N, mm/s. */
export function speedCurve({ response, modesToHz }: VoiceView): Curve {
  return {
    frequency: response.frequency,
    values: response.mobility.map((v) => 1000 * v),
    to: modesToHz,
  };
}

/** Sound pressure level at 1 m for a force of 1 N, dB. */
export function levelCurve({ response, validToHz }: VoiceView): Curve {
  return {
    frequency: response.frequency,
    values: response.pressure.map((p) => 20 * Math.log10(p / referenceSoundPressure)),
    to: validToHz,
  };
}

/** Frequencies on a logarithmic axis: every octave as wide as the next. */
export function pitchScale(low: number, high: number, from: number, to: number): Scale {
  const perLog = (to - from) / Math.log(high / low);
  return (frequency) => from + perLog * Math.log(frequency / low);
}

/** The frequency at a place of that axis. */
export function frequencyAt(px: number, low: number, high: number, from: number, to: number): number {
  return low * (high / low) ** Math.min(1, Math.max(0, (px - from) / (to - from)));
}

/** Whole decades that hold the drawn parts of all curves, at least one, at most `most` down from the peak. */
export function decadesOf(curves: readonly Curve[], most = 4): readonly [number, number] {
  const found = curves.flatMap(drawnValues).filter((v) => v > 0);
  if (found.length === 0) return [1, 10];
  const high = Math.ceil(Math.log10(extreme(found, Math.max)));
  const low = Math.floor(Math.log10(extreme(found, Math.min)));
  return [10 ** Math.max(low, high - most), 10 ** Math.max(high, low + 1)];
}

/** Whole tens that hold them, at most 60 under the peak. */
export function tensOf(curves: readonly Curve[]): readonly [number, number] {
  const found = curves.flatMap(drawnValues);
  if (found.length === 0) return [0, 10];
  const high = Math.ceil(extreme(found, Math.max) / 10) * 10;
  const low = Math.floor(extreme(found, Math.min) / 10) * 10;
  return [Math.min(high - 10, Math.max(low, high - 60)), high];
}

function drawnValues({ frequency, values, to }: Curve): number[] {
  return [...values].filter((v, i) => frequency[i]! <= to && Number.isFinite(v));
}

function extreme(values: readonly number[], pick: (a: number, b: number) => number): number {
  return values.reduce((a, b) => pick(a, b));
}

/**
 * Path data of a curve as far as it is foreseen. A dip below the scale's foot (px, y down) leaves a gap: a line there
 * would be a value.
 */
export function curvePath({ frequency, values, to }: Curve, x: Scale, y: Scale, foot: number): string {
  let data = "";
  let down = false;
  for (let i = 0; i < frequency.length && frequency[i]! <= to; i++) {
    const at = y(values[i]!);
    if (!(at <= foot + 0.05)) {
      down = false;
      continue;
    }
    data += `${down ? "L" : "M"}${Math.round(10 * x(frequency[i]!)) / 10} ${Math.round(10 * at) / 10}`;
    down = true;
  }
  return data;
}

/** Value of a curve at a frequency, straight between its points; null where it is not foreseen. */
export function valueAt({ frequency, values, to }: Curve, at: number): number | null {
  const last = frequency.length - 1;
  if (last < 1 || at > to || at < frequency[0]! || at > frequency[last]!) return null;
  let [low, high] = [0, last];
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (frequency[mid]! <= at) low = mid;
    else high = mid;
  }
  const share = (at - frequency[low]!) / (frequency[high]! - frequency[low]!);
  return values[low]! + share * (values[high]! - values[low]!);
}

/** A tempered note on the axis. */
export interface NoteTick {
  readonly frequency: number;
  /** "C4" */
  readonly note: string;
  readonly isC: boolean;
}

/** The natural notes between two frequencies, tempered from A4 (ISO 16). */
export function naturalNotes(low: number, high: number, a4: number): readonly NoteTick[] {
  return Array.from({ length: 128 }, (_, midi) => {
    const frequency = a4 * 2 ** ((midi - 69) / 12);
    const { note } = nearestNote(frequency, a4);
    return { frequency, note, isC: note.startsWith("C") };
  }).filter(({ frequency, note }) => frequency >= low && frequency <= high && !note.includes("#"));
}

/** One sigma of a mode's frequency, Hz: sampled where it was, else the model's own. */
export function modeSigma(view: VoiceView, index: number): number {
  const mode = view.modes[index]!;
  return (
    view.ranges?.modes[index]?.frequencyHz ?? mode.frequencyHz * frequencySigma(mode.name, view.knowledge)
  );
}

/** A mode's name set above its tick, in one of two rows. */
export interface ModeName {
  readonly index: number;
  readonly text: string;
  readonly at: number;
  readonly row: number;
}

/** Names of the modes that have one, main modes first; a name without room is left to its tick. */
export function placedNames(
  modes: readonly (Pick<ModeView, "frequencyHz" | "name"> & { readonly index: number })[],
  x: Scale,
  [left, right]: readonly [number, number],
  pxPerLetter: number,
): readonly ModeName[] {
  const isMain = (name: string | null) => name?.startsWith("main") ?? false;
  const wanted = modes.filter(({ name }) => name !== null);
  const placed: (ModeName & { readonly half: number })[] = [];
  for (const mode of [...wanted].sort((a, b) => Number(isMain(b.name)) - Number(isMain(a.name)))) {
    const text = `${mode.name} ${mode.frequencyHz.toFixed(0)} Hz`;
    const half = (text.length * pxPerLetter) / 2;
    const at = Math.min(right - half, Math.max(left + half, x(mode.frequencyHz)));
    const row = [0, 1].find((r) =>
      placed.every((other) => other.row !== r || Math.abs(other.at - at) > other.half + half + 10),
    );
    if (row !== undefined) placed.push({ index: mode.index, text, at, row, half });
  }
  return placed.sort((a, b) => a.at - b.at);
}

/** Fundamentals of the open strings, lowest first. */
export function openStrings(
  rows: readonly NoteRow[],
): readonly { readonly string: number; readonly note: string; readonly frequency: number }[] {
  return rows
    .filter((row) => row.fret === 0)
    .map(({ string, note, frequencyHz }) => ({ string, note, frequency: frequencyHz }))
    .sort((a, b) => a.frequency - b.frequency);
}

/** "E3 +12 cents" */
export function sayNote(frequency: number, a4: number): string {
  const { note, cents } = nearestNote(frequency, a4);
  return cents === 0 ? note : `${note} ${cents > 0 ? "+" : "−"}${Math.abs(cents)} cents`;
}

/** Three figures of a speed. */
export function saySpeed(millimetres: number): string {
  return `${Number(millimetres.toPrecision(2))} mm/s`;
}
