/**
 * The rendered sound is the computed body's: a parametric fit that knows nothing of the model finds in the samples every main tone of a
 * note where the model has it, and the samples are as loud as the note board says.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { defaultRender, type NoteTones, renderNotes } from "#engine/notes";
import { opened } from "#engine/numerics";
import { noteTones, type SoundingBody, soundingBody, type Voice } from "#engine/pipeline";
import { coarseVoice } from "./coarseBody.ts";
import { dampedTones } from "./dampedTones.ts";
import { openExample } from "./openExample.ts";

let voice: Voice;
let body: SoundingBody;
beforeAll(async () => {
  voice = await coarseVoice(openExample("low-radial"));
  body = soundingBody(voice);
});

const { rate, stopping } = defaultRender;
const seconds = 3.5;

const rendered = (tones: NoteTones) =>
  renderNotes([{ tones, onset: 0, stop: null, strength: 1 }], { ...defaultRender, seconds });

/** Largest gap between a main tone of the model and the nearest one found: cents, and share of its decay rate. */
function worstGaps(samples: Float32Array, tones: NoteTones) {
  // between rise and fade
  const steady = samples.subarray(0.002 * rate, Math.floor((seconds - stopping) * rate));
  const energy = Array.from(tones.re, (x, r) => (x * x + tones.im[r]! ** 2) / (tones.decay[r]! + 1 / 0.3));
  const most = Math.max(...energy);
  let cents = 0;
  let decay = 0;
  let count = 0;
  for (let r = 0; r < tones.count; r++) {
    // main: within 30 dB of the strongest
    if (energy[r]! < 1e-3 * most) continue;
    count++;
    const gaps = dampedTones(steady, rate, tones.omega[r]! / (2 * Math.PI)).map((found) => ({
      cents: Math.abs(1200 * Math.log2(found.omega / tones.omega[r]!)),
      decay: Math.abs(found.decay / tones.decay[r]! - 1),
    }));
    gaps.sort((a, b) => a.cents + 20 * a.decay - b.cents - 20 * b.decay);
    cents = Math.max(cents, gaps[0]?.cents ?? Number.POSITIVE_INFINITY);
    decay = Math.max(decay, gaps[0]?.decay ?? Number.POSITIVE_INFINITY);
  }
  return { cents, decay, count };
}

describe.each([
  [6, 0],
  [4, 5],
  [1, 7],
])("string %i, fret %i, rendered", (string, fret) => {
  it("has every main tone within 1 cent and its decay within 5 % (HUA-SARKAR-1990)", () => {
    const tones = opened(noteTones(body, string, fret));
    const { cents, decay, count } = worstGaps(rendered(tones), tones);
    expect(count).toBeGreaterThan(5);
    expect(tones.farEndYields).toBe(true);
    expect(cents).toBeLessThan(1);
    expect(decay).toBeLessThan(0.05);
  });
});

it("the fit notices a tone 1.2 cents off, or one that decays 6 % faster", () => {
  const tones = opened(noteTones(body, 4, 5));
  const strongest = tones.re.reduce((best, x, r) => (Math.abs(x) > Math.abs(tones.re[best]!) ? r : best), 0);
  const changed = (key: "omega" | "decay", factor: number) => {
    const moved = tones[key].map((x, r) => (r === strongest ? factor * x : x));
    return worstGaps(rendered({ ...tones, [key]: moved }), tones);
  };
  expect(changed("omega", 2 ** (1.2 / 1200)).cents).toBeGreaterThan(1);
  expect(changed("decay", 1.06).decay).toBeGreaterThan(0.05);
});

it("the samples' mean square over 0.3 s is the note board's level to 0.1 dB, at every third note of the board", () => {
  let checked = 0;
  for (const row of voice.board.noteBoard) {
    if (row.levelDb === null || (row.string + row.fret) % 3 !== 0) continue;
    const tones = opened(noteTones(body, row.string, row.fret));
    const samples = rendered(tones).subarray(0, 0.3 * rate);
    const square = samples.reduce((sum, p) => sum + p * p, 0) / samples.length;
    expect(Math.abs(10 * Math.log10(square / 20e-6 ** 2) - row.levelDb)).toBeLessThan(0.1);
    checked++;
  }
  expect(checked).toBeGreaterThan(30);
});

it("a note above the range foreseen is refused, where the board has no level either", () => {
  for (const row of voice.board.noteBoard.filter(({ levelDb }) => levelDb === null))
    expect(noteTones(body, row.string, row.fret)).toMatchObject({ ok: false, reason: "not-foreseen" });
});
