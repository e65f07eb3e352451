/**
 * The rendered sound is the computed body's: a parametric fit that knows nothing of the model finds in the samples every main tone of a
 * note where the model has it, and the samples are as loud as the note board says.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { defaultRender, type NoteTones, renderNotes } from "#engine/notes";
import { opened } from "#engine/numerics";
import { noteTones, type SoundingBody, soundingBody, type Voice } from "#engine/pipeline";
import { coarseVoice } from "./coarseBody.ts";
import { openExample } from "./openExample.ts";
import { mainTones, toneGaps } from "./toneGaps.ts";

let voice: Voice;
let body: SoundingBody;
beforeAll(async () => {
  voice = await coarseVoice(openExample("low-radial"));
  body = soundingBody(voice);
});

const render = { ...defaultRender, seconds: 3.5 };

const rendered = (tones: NoteTones) => renderNotes([{ tones, onset: 0, stop: null, strength: 1 }], render);

describe.each([
  [6, 0],
  [4, 5],
  [1, 7],
])("string %i, fret %i, rendered", (string, fret) => {
  it("has every main tone within 1 cent and its decay within 5 % (HUA-SARKAR-1990)", () => {
    const tones = opened(noteTones(body, string, fret));
    const main = mainTones(tones);
    const { cents, decay } = toneGaps(rendered(tones), render, tones, main);
    expect(main.length).toBeGreaterThan(5);
    expect(tones.farEndYields).toBe(true);
    expect(cents).toBeLessThan(1);
    expect(decay).toBeLessThan(0.05);
  });
});

it("the fit notices a tone 1.2 cents off, or one that decays 6 % faster", () => {
  const tones = opened(noteTones(body, 4, 5));
  const strongest = mainTones(tones)[0]!;
  const changed = (key: "omega" | "decay", factor: number) => {
    const moved = tones[key].map((x, r) => (r === strongest ? factor * x : x));
    return toneGaps(rendered({ ...tones, [key]: moved }), render, tones, [strongest]);
  };
  expect(changed("omega", 1).cents).toBeLessThan(1);
  expect(changed("omega", 2 ** (1.2 / 1200)).cents).toBeGreaterThan(1);
  expect(changed("decay", 1.06).decay).toBeGreaterThan(0.05);
});

it("the samples' mean square over 0.3 s is the note board's level to 0.1 dB, at every third note of the board", () => {
  let checked = 0;
  for (const row of voice.board.noteBoard) {
    if (row.levelDb === null || (row.string + row.fret) % 3 !== 0) continue;
    const tones = opened(noteTones(body, row.string, row.fret));
    const samples = rendered(tones).subarray(0, 0.3 * render.rate);
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
