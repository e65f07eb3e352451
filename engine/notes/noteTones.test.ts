import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { designString } from "#engine/strings";
import type { BoardString } from "./boardString.ts";
import { randomBody } from "./denseSystem.fixture.ts";
import { noteBoard } from "./noteBoard.ts";
import { boardPluck, noteTones, type PlayedOn } from "./noteTones.ts";

const frets = 12;
const owner: BoardString = {
  string: 4,
  frequency: 146.8324,
  design: opened(
    designString({
      kind: "wound",
      coreDiameter: 0.36e-3,
      coreShape: "hex",
      wraps: [{ diameter: 0.216e-3, material: "phosphor-bronze" }],
    }),
  ),
  scaleLength: 0.65,
  fretDistance: Float64Array.from({ length: frets + 1 }, (_, f) => 0.65 * (1 - 2 ** (-f / 12))),
};
const body = randomBody(21, 30, 95, 900);
const far = { shape: Float64Array.from({ length: 60 }, (_, i) => 0.2 * Math.sin(7 * i)) };
const rigid: PlayedOn = { body, far: null, validToHz: 800, decayValidToHz: 850, a4: 440 };
const yielding: PlayedOn = { ...rigid, far };

describe("the tones of a note", () => {
  it.each([
    ["rigid frets", rigid, undefined],
    ["frets that yield", yielding, [Array.from({ length: frets + 1 }, () => far)]],
  ])("have the level of the note board with %s, to 0.001 dB", (_, on, farEnds) => {
    const board = opened(
      noteBoard(
        {
          strings: [owner],
          bodies: [body],
          frets,
          validToHz: on.validToHz,
          decayValidToHz: on.decayValidToHz,
          ...(farEnds === undefined ? {} : { farEnds }),
        },
        quiet,
      ),
    );
    for (const { fret, levelDb, note, frequencyHz } of board.noteBoard) {
      const tones = opened(noteTones(owner, fret, on));
      expect(Math.abs(tones.levelDb - levelDb!)).toBeLessThan(1e-3);
      expect(tones).toMatchObject({ fret, note, frequency: frequencyHz, farEndYields: on.far !== null });
      expect(Math.max(...tones.omega)).toBeLessThanOrEqual(2 * Math.PI * on.validToHz);
    }
  });

  it("grow with the force, and add up from a pluck along the normal and one across", () => {
    const at = (force: number, angle: number) =>
      opened(noteTones(owner, 3, yielding, { force, fromCrown: 0.1, angle }));
    const hard = at(2, 0.4);
    const soft = at(1, 0.4);
    expect(hard.levelDb - soft.levelDb).toBeCloseTo(20 * Math.log10(2), 6);
    const [normal, across] = [at(1, 0), at(1, Math.PI / 2)];
    const strongest = soft.re.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    soft.omega.forEach((w, r) => {
      const find = (tones: typeof soft) => tones.re[tones.omega.indexOf(w)] ?? 0;
      const sum = Math.cos(0.4) * find(normal) + Math.sin(0.4) * find(across);
      expect(Math.abs(sum - soft.re[r]!)).toBeLessThan(1e-4 * strongest);
    });
  });

  it("are plain data that goes through a worker", () => {
    const tones = opened(noteTones(owner, 0, yielding));
    expect(structuredClone(tones)).toEqual(tones);
  });

  it("are refused, with a reason, above the range foreseen and for what is no pluck", () => {
    const above = noteTones(owner, 0, { ...rigid, validToHz: 140 });
    expect(above).toMatchObject({ ok: false, reason: "not-foreseen" });
    for (const pluck of [
      { ...boardPluck, force: 0 },
      { ...boardPluck, fromCrown: 0.7 },
      { ...boardPluck, angle: Number.NaN },
    ])
      expect(noteTones(owner, 0, rigid, pluck)).toMatchObject({ ok: false, reason: "bad-pluck" });
    expect(noteTones(owner, 99, rigid)).toMatchObject({ ok: false, reason: "bad-pluck" });
    const silent = { ...body, pressure: new Float64Array(30) };
    expect(noteTones(owner, 0, { ...rigid, body: silent })).toMatchObject({ reason: "not-foreseen" });
  });
});
