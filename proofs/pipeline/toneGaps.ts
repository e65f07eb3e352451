import type { NoteTones } from "#engine/notes";
import { dampedTones, type FoundTone } from "./dampedTones.ts";

/** Hz: tones so near to the centre of a fit are looked for in it. */
const shared = 10;

/** Indices of the tones within 30 dB of the strongest, by their energy, the strongest first. */
export function mainTones({ count, re, im, decay }: NoteTones): readonly number[] {
  const energy = Array.from({ length: count }, (_, r) => (re[r]! ** 2 + im[r]! ** 2) / (decay[r]! + 1 / 0.3));
  const least = 1e-3 * Math.max(...energy);
  return [...energy.keys()].filter((r) => energy[r]! >= least).sort((a, b) => energy[b]! - energy[a]!);
}

/**
 * Largest gaps between these tones of the model and the nearest that a fit finds in what was rendered of them: cents, and share of the
 * decay rate. Rise and fade (`stopping`, s) are left out. Infinite where a fit finds nothing.
 */
export function toneGaps(
  rendered: Float32Array,
  { rate, seconds, stopping }: { readonly rate: number; readonly seconds: number; readonly stopping: number },
  { omega, decay }: NoteTones,
  which: readonly number[],
): { readonly cents: number; readonly decay: number } {
  const steady = rendered.subarray(0.002 * rate, Math.floor((seconds - stopping) * rate));
  const worst = { cents: 0, decay: 0 };
  let found: readonly FoundTone[] = [];
  let centre = Number.NEGATIVE_INFINITY;
  for (const r of which.toSorted((a, b) => omega[a]! - omega[b]!)) {
    const frequency = omega[r]! / (2 * Math.PI);
    if (frequency - centre > shared) {
      centre = frequency;
      found = dampedTones(steady, rate, centre);
    }
    const gaps = found.map((tone) => ({
      cents: Math.abs(1200 * Math.log2(tone.omega / omega[r]!)),
      decay: Math.abs(tone.decay / decay[r]! - 1),
    }));
    gaps.sort((a, b) => a.cents + 20 * a.decay - b.cents - 20 * b.decay);
    worst.cents = Math.max(worst.cents, gaps[0]?.cents ?? Number.POSITIVE_INFINITY);
    worst.decay = Math.max(worst.decay, gaps[0]?.decay ?? Number.POSITIVE_INFINITY);
  }
  return worst;
}
