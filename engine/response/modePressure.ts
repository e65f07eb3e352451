import type { BodyResponse, ModePressure } from "./bodyResponse.ts";
import type { CoupledStructure } from "./coupledStructure.ts";
import type { DampedStructure } from "./dampedStructure.ts";
import { evenWeights } from "./outerBasis.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** Pressure of every mode at every listener by frequency, or null where no outer field is given. */
export function modePressure(c: CoupledStructure, d: DampedStructure): ModePressure | null {
  const { outside, n } = c;
  if (!outside) return null;
  const { rigidCount: r, count } = d;
  const lines = outside.pressureRe.length / n;
  const m = r + count;
  const table = (forms: Float64Array, modes: Float64Array) => {
    const rigid = timesTransposed(forms, d.rigid, lines, r, n);
    const out = new Float64Array(lines * m);
    for (let k = 0; k < lines; k++) {
      out.set(rigid.subarray(k * r, k * r + r), k * m);
      out.set(modes.subarray(k * count, (k + 1) * count), k * m + r);
    }
    return out;
  };
  return {
    frequencies: outside.frequencies,
    listeners: ["metre", "ear"].slice(0, outside.listeners),
    re: table(outside.pressureRe, d.pressure.re),
    im: table(outside.pressureIm, d.pressure.im),
    travel: outside.travel,
    soundSpeed: outside.soundSpeed,
  };
}

/** Real part at the first listener at each mode's own frequency, travel taken out: what a small source of that strength would give. */
export function ownPressure(p: ModePressure, d: DampedStructure): Float64Array {
  const m = d.rigidCount + d.count;
  const listeners = p.travel.length;
  const out = new Float64Array(d.count);
  for (let i = 0; i < d.count; i++) {
    const weights = evenWeights(p.frequencies, d.omega[i] / (2 * Math.PI));
    for (let f = 0; f < weights.length; f++)
      out[i] += weights[f] * p.re[f * listeners * m + d.rigidCount + i];
  }
  return out;
}

/**
 * Pressure at a listener per unit acceleration of each motion (rigid motions first) at several frequencies (Hz) within the table,
 * the travel time left out: frequencies x motions.
 */
export function pressureTable(
  p: ModePressure,
  listener: number,
  frequencies: Float64Array,
): { readonly re: Float64Array; readonly im: Float64Array } {
  const m = p.re.length / (p.frequencies.length * p.travel.length);
  const re = new Float64Array(frequencies.length * m);
  const im = new Float64Array(frequencies.length * m);
  for (let k = 0; k < frequencies.length; k++) {
    const at = frequencies[k];
    const weights = evenWeights(p.frequencies, at);
    for (let f = 0; f < weights.length; f++) {
      const x = weights[f];
      const from = (f * p.travel.length + listener) * m;
      // the real part is even in frequency, the imaginary part odd
      const odd = p.frequencies[f] > 0 ? (x * at) / p.frequencies[f] : 0;
      for (let i = 0; i < m; i++) {
        re[k * m + i] += x * p.re[from + i];
        im[k * m + i] += odd * p.im[from + i];
      }
    }
  }
  return { re, im };
}

/**
 * Pressure at a listener (0: 1 m from the saddle, 1: the player's ear) per unit acceleration of each motion, rigid motions first,
 * at omega (rad/s) within the table; with the travel time: multiply by a mode's own -w^2 x to have the sound.
 */
export function pressureAt(
  body: BodyResponse,
  listener: number,
  omega: number,
): { readonly re: Float64Array; readonly im: Float64Array } | null {
  const p = body.pressure;
  if (!p) return null;
  const { re, im } = pressureTable(p, listener, Float64Array.of(omega / (2 * Math.PI)));
  const phase = (-omega * p.travel[listener]) / p.soundSpeed;
  const [c, s] = [Math.cos(phase), Math.sin(phase)];
  return {
    re: re.map((a, i) => c * a - s * im[i]),
    im: re.map((a, i) => c * im[i] + s * a),
  };
}
