import type { ExteriorField } from "./exterior.ts";

/**
 * Weights, by frequency solved, that make any even table of a field (resistance over omega^2, mass, pressureRe, pressureIm
 * over omega) at one frequency in Hz: the polynomial in s = frequency^2 through all of them of table x (1 + (k a)^2).
 *
 * The factor takes away the nearest pole of the outer air, at k = i/a: a pulsating sphere's impedance is ika/(1 + ika). With
 * a the radius of the sphere of the same volume, 10 frequencies up to 1 kHz on a guitar-like body leave 4e-4 of the largest
 * entry, 8 leave 2e-3; without the factor 5e-3 and 2e-2 (observed).
 */
export function exteriorWeights(
  { frequencies, radius, soundSpeed }: Pick<ExteriorField, "frequencies" | "radius" | "soundSpeed">,
  at: number,
): Float64Array {
  const top = frequencies[frequencies.length - 1];
  const s = frequencies.map((f) => (f / top) ** 2);
  const x = (at / top) ** 2;
  const pole = (soundSpeed / (2 * Math.PI * top * radius)) ** 2;
  return s.map((own, i) => {
    let weight = (pole + own) / (pole + x);
    for (let j = 0; j < s.length; j++) if (j !== i) weight *= (x - s[j]) / (own - s[j]);
    return weight;
  });
}
