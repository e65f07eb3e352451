import { describe, expect, it } from "vitest";
import { seededRandom } from "#engine/numerics";
import type { NoteTones } from "./noteTones.ts";
import { defaultRender, renderNotes } from "./renderNotes.ts";

const random = seededRandom(11);
const count = 40;
const made = (from: number, to: number) =>
  Float64Array.from({ length: count }, () => from + (to - from) * random());
const tones: NoteTones = {
  count,
  omega: made(500, 6500),
  decay: made(0.5, 30),
  re: made(-0.02, 0.02),
  im: made(-0.02, 0.02),
  partial: new Int32Array(count),
  string: 1,
  fret: 0,
  note: "E4",
  frequency: 330,
  pluck: { force: 1, fromCrown: 0.12, angle: 0 },
  foreseenTo: 1000,
  farEndYields: true,
  levelDb: 70,
};
const note = { tones, onset: 0, stop: null, strength: 1 };

/** p(t) of one note, in closed form. */
function closed(t: number): number {
  let p = 0;
  for (let r = 0; r < count; r++) {
    const phase = tones.omega[r]! * t;
    p += Math.exp(-tones.decay[r]! * t) * (tones.re[r]! * Math.cos(phase) - tones.im[r]! * Math.sin(phase));
  }
  return p;
}

const { rate, rise, stopping } = defaultRender;
const rms = (a: Float32Array) => Math.sqrt(a.reduce((sum, x) => sum + x * x, 0) / a.length);

describe("a rendered note", () => {
  it("is its tones in closed form to the rounding of its 32-bit samples, between rise and fade", () => {
    const samples = renderNotes([note], { ...defaultRender, seconds: 6 });
    expect(samples).toHaveLength(6 * rate);
    const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    let worst = 0;
    for (let i = Math.ceil(rise * rate); i < (6 - stopping) * rate - 1; i++)
      worst = Math.max(worst, Math.abs(samples[i]! - closed(i / rate)));
    expect(worst).toBeLessThan(peak * 2 ** -24);
  });

  it("begins and ends at nothing", () => {
    const samples = renderNotes([note]);
    expect(samples[0]).toBe(0);
    expect(Math.abs(samples.at(-1)!)).toBeLessThan(1e-9);
  });

  it("is stopped by a finger without a jump, and is 60 dB down after the time said", () => {
    const free = renderNotes([note]);
    const stopped = renderNotes([{ ...note, stop: 1 }]);
    const at = rate;
    expect(stopped.subarray(0, at)).toEqual(free.subarray(0, at));
    const step = (a: Float32Array) => Math.abs(a[at]! - a[at - 1]!);
    expect(step(stopped)).toBeLessThan(step(free) + 1e-3 * rms(free));
    const late = at + Math.round(stopping * rate);
    const span = (a: Float32Array) => rms(a.subarray(late - 100, late + 100));
    expect(20 * Math.log10(span(stopped) / span(free))).toBeGreaterThan(-61);
    expect(20 * Math.log10(span(stopped) / span(free))).toBeLessThan(-59);
  });

  it("begins at its onset, as hard as it is told, and adds to the others", () => {
    const alone = renderNotes([note]);
    const later = renderNotes([{ ...note, onset: 0.5, strength: 0.5 }]);
    const both = renderNotes([note, { ...note, onset: 0.5, strength: 0.5 }]);
    const shift = 0.5 * rate;
    expect(later.subarray(0, shift).every((x) => x === 0)).toBe(true);
    for (const i of [10, 1000, 40000, 90000]) {
      expect(later[shift + i]).toBeCloseTo(0.5 * alone[i]!, 6);
      expect(both[shift + i]).toBeCloseTo(later[shift + i]! + alone[shift + i]!, 6);
    }
  });

  it("that begins after the end is not heard", () => {
    expect(renderNotes([{ ...note, onset: 9 }]).every((x) => x === 0)).toBe(true);
  });
});
