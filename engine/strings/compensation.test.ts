import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { compensation, frettedErrors } from "./compensation.ts";
import { designString } from "./designString.ts";

const design = opened(designString({ kind: "plain", diameter: 0.4e-3, material: "steel" }));
const fretDistance = Float64Array.from({ length: 21 }, (_, f) => 0.65 * (1 - 2 ** (-f / 12)));
const geometry = { scaleLength: 0.65, fretDistance, action: 2e-3, nutHeight: 4e-4 };
const pitch = 246.94;

describe("compensation", () => {
  it("is nothing for a flexible string that the fret does not stretch", () => {
    const ideal = { ...design, bendingStiffness: 0, axialStiffness: 0 };
    const fit = compensation(ideal, pitch, geometry);
    expect(Math.abs(fit.saddleOffset)).toBeLessThan(1e-9);
    expect(fit.rmsCents).toBeLessThan(1e-6);
  });

  it("leaves less error than any other offset", () => {
    const fit = compensation(design, pitch, geometry);
    const rms = (offset: number) => {
      const e = frettedErrors(design, pitch, geometry, offset, 0);
      return Math.sqrt(e.reduce((sum, x) => sum + x * x, 0) / e.length);
    };
    expect(fit.rmsCents).toBeCloseTo(rms(fit.saddleOffset), 9);
    expect(rms(fit.saddleOffset + 1e-4)).toBeGreaterThan(fit.rmsCents);
    expect(rms(fit.saddleOffset - 1e-4)).toBeGreaterThan(fit.rmsCents);
  });

  it("grows with action, axial stiffness, finger depth and clamped ends", () => {
    const offset = compensation(design, pitch, geometry).saddleOffset;
    expect(compensation(design, pitch, { ...geometry, action: 3e-3 }).saddleOffset).toBeGreaterThan(offset);
    expect(compensation(design, pitch, { ...geometry, pressDepth: 3e-4 }).saddleOffset).toBeGreaterThan(
      offset,
    );
    expect(compensation(design, pitch, { ...geometry, ends: "clamped" }).saddleOffset).toBeGreaterThan(
      offset,
    );
    const stiffer = { ...design, axialStiffness: 2 * design.axialStiffness };
    expect(compensation(stiffer, pitch, geometry).saddleOffset).toBeGreaterThan(offset);
  });

  it("uncompensated notes are sharp, the more the nearer the finger is to the saddle", () => {
    const errors = frettedErrors(design, pitch, geometry, 0, 0);
    expect(Math.min(...errors)).toBeGreaterThan(0);
    expect(errors[19]!).toBeGreaterThan(errors[11]!);
  });

  it("a nut offset lowers the fretted notes against the open string", () => {
    const without = frettedErrors(design, pitch, geometry, 2e-3, 0);
    const withNut = frettedErrors(design, pitch, geometry, 2e-3, 3e-4);
    for (let f = 0; f < 20; f++) expect(withNut[f]!).toBeLessThan(without[f]!);
  });

  it("adds one end's stiffness length to the saddle for clamped ends, half of it at each for continuing ones", () => {
    // no stretch: the whole offset is 2 c sqrt(EI/T) to first order
    const still = { ...design, axialStiffness: 0 };
    const e = Math.sqrt(design.bendingStiffness / (design.linearDensity * (2 * 0.65 * pitch) ** 2));
    for (const [ends, held] of [
      ["continuing", 0.5],
      ["clamped", 1],
    ] as const) {
      const { saddleOffset } = compensation(still, pitch, { ...geometry, ends });
      expect(saddleOffset / (2 * held * e)).toBeCloseTo(1, 1);
    }
  });
});
