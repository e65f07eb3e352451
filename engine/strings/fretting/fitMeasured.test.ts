import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { bestOffsets } from "./bestOffsets.ts";
import { fitMeasured } from "./fitMeasured.ts";
import { frettedPitch } from "./frettedPitch.ts";
import type { FrettingString } from "./frettingString.ts";
import { lightString } from "./lightString.fixture.ts";
import type { MeasuredNote } from "./measuredNote.ts";

const thought = lightString();
const offsets = { nut: 0, saddle: 2.5e-3 };
/** What the guitar is like: stiffer, pressed more lightly, its saddle 0.3 mm farther back, tuned 1.5 cents sharp. */
const real: FrettingString = {
  ...thought,
  design: { ...thought.design, axialStiffness: 1.12 * thought.design.axialStiffness },
  finger: { ...thought.finger, depth: 0.75 * thought.finger.depth },
};
const stands = { nut: 0, saddle: 2.8e-3 };
const read = (frets: readonly number[], spreadCents: number): MeasuredNote[] =>
  frets.map((fret) => ({
    fret,
    cents: 1.5 + (fret === 0 ? 0 : opened(frettedPitch(real, fret, stands)).cents),
    spreadCents,
  }));

describe("fitting a string to measured cents", () => {
  it("finds stiffness, finger, saddle and tuning from sharp readings", () => {
    const { values } = opened(fitMeasured(thought, offsets, read([0, 1, 3, 5, 7, 9, 12, 15, 17, 20], 0.01)));
    const truth = [real.design.axialStiffness, real.finger.depth, stands.saddle, 1.5];
    values.forEach((v, i) => {
      expect(Math.abs(v.value - truth[i]!)).toBeLessThan(3 * v.spread);
    });
    const spreads = values.map((v, i) => v.spread / truth[i]!);
    expect(Math.max(...spreads)).toBeLessThan(0.03);
    expect(values.every((v) => v.determined && v.spread < v.priorSpread)).toBe(true);
  });

  it("advises the re-cut that the real string wants, within its range, though the values stay uncertain", () => {
    const wanted = opened(bestOffsets([real], { nut: "zero" }))[0]!.offsets.saddle - stands.saddle;
    const { recut, after } = opened(fitMeasured(thought, offsets, read([0, 5, 12, 17], 1)));
    expect(recut.low).toBeLessThan(wanted);
    expect(recut.high).toBeGreaterThan(wanted);
    expect(recut.high - recut.low).toBeLessThan(3e-3);
    expect(after.offsets.saddle).toBeGreaterThan(0);
  });

  it("leaves what was thought where the readings say little, and says so", () => {
    const fit = fitMeasured(thought, offsets, read([0, 12, 13], 5));
    expect(fit.ok && fit.warnings.map((w) => w.code)).toContain("not-determined");
    const { values } = opened(fit);
    const stiffness = values.find((v) => v.name === "axialStiffness")!;
    expect(stiffness.determined).toBe(false);
    expect(stiffness.spread / stiffness.priorSpread).toBeGreaterThan(0.8);
  });

  it("narrows the range with every reading and with finer ones", () => {
    const width = (frets: readonly number[], spread: number) => {
      const { recut } = opened(fitMeasured(thought, offsets, read(frets, spread)));
      return recut.high - recut.low;
    };
    expect(width([0, 5, 12, 17], 1)).toBeLessThan(width([0, 12, 17], 1));
    expect(width([0, 5, 12, 17], 0.5)).toBeLessThan(width([0, 5, 12, 17], 1));
  });

  it("stays with a finger that holds the string however flat the readings, and is the less sure of its advice", () => {
    const flat = (cents: number) => [3, 5, 7, 12, 15].map((fret) => ({ fret, cents, spreadCents: 0.5 }));
    const width = (cents: number) => {
      const { recut } = opened(fitMeasured(thought, offsets, flat(cents)));
      return recut.high - recut.low;
    };
    expect(width(-25)).toBeGreaterThan(3 * width(3));
  });

  it("points at a reading that no string could make", () => {
    const readings = read([0, 3, 5, 7, 12, 15], 1).map((r) =>
      r.fret === 7 ? { ...r, cents: r.cents + 15 } : r,
    );
    const fit = fitMeasured(thought, offsets, readings);
    const warning = fit.ok ? fit.warnings.find((w) => w.code === "readings-disagree") : undefined;
    expect(warning?.detail).toContain("fret 7");
  });

  it("refuses one reading and says what it leaves open, and readings that are none", () => {
    const refusal = (readings: readonly MeasuredNote[]) => {
      const fit = fitMeasured(thought, offsets, readings);
      return fit.ok ? "" : `${fit.reason}: ${fit.detail}`;
    };
    expect(refusal(read([0, 12], 1))).toMatch(
      /^too-few-readings: string 2: fret 12 alone does not tell .* apart/,
    );
    expect(refusal(read([0], 1))).toMatch(/^too-few-readings: string 2: no fretted note/);
    expect(refusal([{ fret: 25, cents: 3 }])).toMatch(/^bad-reading: string 2: fret 25/);
    expect(refusal([{ fret: 5, cents: 300 }])).toMatch(/^bad-reading/);
    expect(refusal([{ fret: 5, cents: 3, spreadCents: 0 }])).toMatch(/^bad-reading/);
  });
});
