import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { narrowestBand } from "./narrowestBand.ts";

describe("the narrowest band", () => {
  it("has no width through points in a line, and lies on them", () => {
    const across = [-0.028, -0.01, 0.005, 0.028];
    const band = opened(
      narrowestBand(
        across,
        across.map((y) => 0.003 + 0.05 * y),
        null,
      ),
    );
    expect(band.width).toBeCloseTo(0, 16);
    expect(band.slope).toBeCloseTo(0.05, 13);
    expect(band.middle).toBeCloseTo(0.003, 15);
  });

  it("along a given slope spans lowest to highest", () => {
    expect(opened(narrowestBand([0, 1, 2], [0.001, 0.004, 0.002], 0))).toEqual({
      slope: 0,
      middle: 0.0025,
      width: 0.003,
    });
  });

  it("holds every point and is no wider than any other slope's (fuzz)", () => {
    const offset = fc.double({ min: 0, max: 0.01, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(offset, { minLength: 2, maxLength: 8 }),
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        (back, slope) => {
          const across = back.map((_, i) => 0.01 * i - 0.02);
          const best = opened(narrowestBand(across, back, null));
          for (const [i, y] of across.entries())
            expect(Math.abs(back[i] - best.middle - best.slope * y)).toBeLessThanOrEqual(
              best.width / 2 + 1e-15,
            );
          expect(best.width).toBeLessThanOrEqual(opened(narrowestBand(across, back, slope)).width + 1e-15);
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });

  it("is refused for one point, or two at one place", () => {
    expect(narrowestBand([0], [1], null).ok).toBe(false);
    expect(narrowestBand([0, 0], [1, 2], null).ok).toBe(false);
  });
});
