import { describe, expect, it } from "vitest";
import { airTerms } from "./airLaws.ts";

const none = { stiffness: 8e6, leak: 0, wallHeat: 0, viscous: 0, radiation: 0 };
const at = (omega: number) => ({ re: omega, im: 0 });

describe("airTerms", () => {
  it("vanish without losses", () => {
    const { whole, hole } = airTerms(none, at(600));
    expect(Math.hypot(whole.re, whole.im) / none.stiffness).toBeLessThan(1e-15);
    expect(hole).toEqual({ re: -0, im: 0 });
  });

  it("take energy at every frequency: positive imaginary parts", () => {
    for (const omega of [10, 600, 6000]) {
      const { cavity, radiation, hole } = airTerms(
        { stiffness: 8e6, leak: 1e-7, wallHeat: 0.05, viscous: 2, radiation: 3e-4 },
        at(omega),
      );
      expect(cavity.im).toBeGreaterThan(0);
      expect(radiation.im).toBeCloseTo(3e-4 * omega ** 3, 6);
      expect(hole.im).toBeCloseTo(2 * omega ** 1.5, 6);
    }
  });

  it("soften a leaky cavity most where the leak is quicker than the vibration", () => {
    const leaky = { ...none, leak: 1e-6 };
    expect(airTerms(leaky, at(1)).cavity.re / none.stiffness).toBeLessThan(-0.9);
    expect(airTerms(leaky, at(1e4)).cavity.re / none.stiffness).toBeGreaterThan(-0.01);
  });
});
