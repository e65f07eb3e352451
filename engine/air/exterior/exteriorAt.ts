import { invariant } from "#engine/numerics";
import type { ExteriorAt, ExteriorField } from "./exterior.ts";

/** How far past the highest frequency solved the polynomial is trusted. */
const beyond = 1.02;

/**
 * The outer air at one angular frequency (rad/s), by the polynomial in its square through all frequencies solved:
 * resistance over its square, mass and the pressures freed of their travel time are smooth and even in it.
 *
 * Its poles limit that: those of a sphere of radius a are at ka = i and +-1 + i. On guitar-like bodies up to 1 kHz, with the
 * frequencies of `exteriorFrequencies`, 10 leave 0.8 % and 12 leave 0.5 % of sqrt(|Z_ii| |Z_jj|), and the resistance of
 * patterns that hardly radiate may come out below zero by as much (observed; taking out the pole i/a does no better).
 * From 0 to 1.02 times the highest frequency of the field; throws outside.
 */
export function exteriorAt(field: ExteriorField, omega: number): ExteriorAt {
  const { count: p, frequencies, listeners, travel } = field;
  const top = 2 * Math.PI * frequencies[frequencies.length - 1];
  invariant(
    omega >= 0 && omega <= beyond * top,
    () => `${omega} rad/s asked, outer air known to ${top} rad/s`,
  );
  const weight = evenWeights(frequencies, omega / (2 * Math.PI));
  const square = omega * omega;
  const impedanceRe = blend(field.resistance, p * p, weight, () => square);
  const impedanceIm = blend(field.mass, p * p, weight, () => omega);
  const places = listeners.length / 3;
  const re = blend(field.pressureRe, places * p, weight, () => 1);
  const im = blend(field.pressureIm, places * p, weight, (f) => omega / (2 * Math.PI * frequencies[f]));
  // Times i omega exp(-i omega travel/c).
  for (let l = 0; l < places; l++) {
    const phase = (omega * travel[l]) / field.soundSpeed;
    const c = omega * Math.sin(phase);
    const s = omega * Math.cos(phase);
    for (let i = l * p; i < (l + 1) * p; i++) {
      [re[i], im[i]] = [c * re[i] - s * im[i], s * re[i] + c * im[i]];
    }
  }
  return { impedanceRe, impedanceIm, pressureRe: re, pressureIm: im };
}

/** Lagrange weights of the polynomial in the square of frequency. */
function evenWeights(frequencies: Float64Array, at: number): Float64Array {
  const top = frequencies[frequencies.length - 1];
  const s = frequencies.map((f) => (f / top) ** 2);
  const x = (at / top) ** 2;
  return s.map((own, i) => {
    let weight = 1;
    for (let j = 0; j < s.length; j++) if (j !== i) weight *= (x - s[j]) / (own - s[j]);
    return weight;
  });
}

function blend(
  values: Float64Array,
  size: number,
  weight: Float64Array,
  scale: (frequency: number) => number,
): Float64Array {
  const out = new Float64Array(size);
  for (let f = 0; f < weight.length; f++) {
    const w = weight[f] * scale(f);
    const o = f * size;
    for (let i = 0; i < size; i++) out[i] += w * values[o + i];
  }
  return out;
}
