import { describe, expect, it } from "vitest";
import { partialsBelow, stringPartials } from "./partials.ts";

const string = {
  length: 0.65,
  linearDensity: 0.006,
  tension: 70,
  bendingStiffness: 4e-4,
  loss: { friction: 1e-3, bending: 1e-3, air: 0 },
};

describe("partials between rigid ends", () => {
  it("are counted as they are listed", () => {
    const { omega } = stringPartials(string, 50);
    for (const n of [1, 7, 30]) {
      const frequency = omega[n - 1]! / (2 * Math.PI);
      expect(partialsBelow(string, frequency * 1.0001)).toBe(n);
      expect(partialsBelow(string, frequency * 0.9999)).toBe(n - 1);
    }
    expect(partialsBelow({ ...string, bendingStiffness: 0 }, 1)).toBe(0);
  });

  it("all have one Q when friction and bending lose alike and there is no air", () => {
    for (const eta of stringPartials(string, 20).lossFactor) expect(eta).toBeCloseTo(1e-3, 12);
  });

  it("lose to the air in the low partials and to bending in the high ones", () => {
    const real = { ...string, loss: { friction: 1e-4, bending: 2e-2, air: 0.5 } };
    const { lossFactor } = stringPartials(real, 60);
    const least = lossFactor.indexOf(Math.min(...lossFactor));
    expect(least).toBeGreaterThan(0);
    expect(least).toBeLessThan(59);
  });
});
