import type { NoteTones } from "./noteTones.ts";

/** One note in a piece. */
interface PlayedNote {
  readonly tones: NoteTones;
  /** s from the beginning. */
  readonly onset: number;
  /** s from the beginning: a finger stops the string. null: it rings to the end. */
  readonly stop: number | null;
  /** Factor on the pluck's force. */
  readonly strength: number;
}

interface RenderSettings {
  /** Samples per second. */
  readonly rate: number;
  /** s: of the whole. */
  readonly seconds: number;
  /** s: over which a note is faded in. */
  readonly rise: number;
  /** s: in which a stopped string falls by 60 dB. */
  readonly stopping: number;
}

/**
 * 48 kHz. The rise: what lies above the range foreseen is left out, so the sum of the tones does not begin at zero as the whole
 * sound would; a millisecond takes the click of that step away and leaves the level (0.01 dB) and every tone as they are. A finger
 * stops a string in a tenth of a second or so (common practice, no source).
 */
export const defaultRender: RenderSettings = { rate: 48000, seconds: 4, rise: 1e-3, stopping: 0.12 };

/** Samples between two fresh starts from the closed form. */
const block = 1024;

/**
 * The notes together, Pa at 1 m, `seconds` long. Every tone runs by one complex multiplication a sample, begun anew from the closed form every 1024
 * samples, so that rounding does not build up. The last `stopping` of the piece fades to nothing.
 */
export function renderNotes(
  notes: readonly PlayedNote[],
  settings: RenderSettings = defaultRender,
): Float32Array<ArrayBuffer> {
  const { rate, stopping } = settings;
  const total = Math.round(settings.seconds * rate);
  const sum = new Float64Array(total);
  for (const note of notes) addNote(note, settings, sum);
  const fade = Math.min(total, Math.round(stopping * rate));
  for (let k = 0; k < fade; k++) {
    const i = total - 1 - k;
    sum[i] = sum[i]! * (0.5 - 0.5 * Math.cos((Math.PI * k) / fade));
  }
  return Float32Array.from(sum);
}

function addNote(
  { tones, onset, stop, strength }: PlayedNote,
  settings: RenderSettings,
  sum: Float64Array,
): void {
  const { rate, rise, stopping } = settings;
  const start = Math.max(0, Math.round(onset * rate));
  if (start >= sum.length) return;
  const stopAt = stop === null ? sum.length : Math.min(sum.length, Math.max(start, Math.round(stop * rate)));
  // 90 dB under where the finger came
  const end = stop === null ? sum.length : Math.min(sum.length, stopAt + Math.ceil(1.5 * stopping * rate));
  const own = new Float64Array(end - start);
  const held = stopAt - start;
  const finger = Math.log(1000) / stopping;
  for (let r = 0; r < tones.count; r++) {
    const w = tones.omega[r]!;
    const d = tones.decay[r]!;
    const [ar, ai] = [strength * tones.re[r]!, strength * tones.im[r]!];
    addTone(ar, ai, w / rate, d / rate, own.subarray(0, held));
    if (held === own.length) continue;
    const fall = Math.exp((-d * held) / rate);
    const [c, s] = [fall * Math.cos((w * held) / rate), fall * Math.sin((w * held) / rate)];
    addTone(ar * c - ai * s, ar * s + ai * c, w / rate, (d + finger) / rate, own.subarray(held));
  }
  const risen = Math.min(own.length, Math.round(rise * rate));
  for (let k = 0; k < own.length; k++) {
    const gain = k < risen ? 0.5 - 0.5 * Math.cos((Math.PI * k) / risen) : 1;
    sum[start + k] = sum[start + k]! + gain * own[k]!;
  }
}

/** Adds Re (re + i im) exp((i turn - fall) k) to out[k]; turn and fall per sample. */
function addTone(re: number, im: number, turn: number, fall: number, out: Float64Array): void {
  const size = Math.exp(-fall);
  const [c, s] = [size * Math.cos(turn), size * Math.sin(turn)];
  for (let from = 0; from < out.length; from += block) {
    const shrunk = Math.exp(-fall * from);
    const [cos, sin] = [shrunk * Math.cos(turn * from), shrunk * Math.sin(turn * from)];
    let x = re * cos - im * sin;
    let y = re * sin + im * cos;
    const to = Math.min(out.length, from + block);
    for (let k = from; k < to; k++) {
      out[k] = out[k]! + x;
      const next = x * c - y * s;
      y = x * s + y * c;
      x = next;
    }
  }
}
