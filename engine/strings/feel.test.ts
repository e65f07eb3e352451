import { describe, expect, it } from "vitest";
import { feel } from "./feel.ts";

const string = { axialStiffness: 3e4 };

/** Sideways force at the corner of a drawn string, from its two straight parts and their stretch together. */
function exact(tension: number, length: number, a: number, y: number): number {
  const [left, right] = [Math.hypot(a, y), Math.hypot(length - a, y)];
  const pull = tension + (string.axialStiffness * (left + right - length)) / length;
  return pull * (y / left + y / right);
}

describe("feel of a string", () => {
  it("is the force of the drawn triangle over how far it is drawn", () => {
    for (const y of [0.5e-3, 1.5e-3, 4e-3]) {
      const felt = feel(string, 120, 0.65, { place: 0.12, displacement: y });
      expect((felt * y) / exact(120, 0.65, 0.12, y)).toBeCloseTo(1, 3);
    }
  });

  it("grows with the pluck by the stretch, and with a stiffer core", () => {
    const at = (y: number, axialStiffness = 3e4): number =>
      feel({ axialStiffness }, 120, 0.65, { place: 0.12, displacement: y });
    expect(at(3e-3)).toBeGreaterThan(at(1e-3));
    expect(at(3e-3, 6e4) - at(0)).toBeCloseTo(2 * (at(3e-3) - at(0)), 9);
    expect(at(0, 6e4)).toBe(at(0));
  });

  it("is least at the middle, beyond which no place counts", () => {
    const at = (place: number): number => feel(string, 120, 0.65, { place, displacement: 1e-3 });
    expect(at(0.325)).toBeLessThan(at(0.2));
    expect(at(0.5)).toBe(at(0.325));
  });
});
