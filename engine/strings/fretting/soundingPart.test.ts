import { describe, expect, it } from "vitest";
import { soundingFrequency } from "./soundingPart.ts";

const part = { length: 0.6, tension: 90, bendingStiffness: 4e-4, linearDensity: 3e-3 };
const reach = Math.sqrt(part.bendingStiffness / part.tension);

describe("the sounding part of a string", () => {
  it("is shortened at each end by the share h/(1 + h) of sqrt(EI/T)", () => {
    for (const [one, two] of [
      [0, 0],
      [1, 0],
      [1, 1],
      [3, 0.5],
      [Number.POSITIVE_INFINITY, 1],
    ] as const) {
      const share = (h: number) => (h === Number.POSITIVE_INFINITY ? 1 : h / (1 + h));
      const short = part.length - (share(one) + share(two)) * reach;
      const first = Math.sqrt(part.tension / part.linearDensity) / (2 * short);
      // the square of e/L remains: 5 to 9 of it
      const rest = soundingFrequency({ ...part, ends: [one, two] }) / first - 1;
      expect(rest).toBeGreaterThan(0);
      expect(rest).toBeLessThan(10 * (reach / part.length) ** 2);
    }
  });

  it("is a flexible string without bending stiffness, whatever its ends", () => {
    const ideal = Math.sqrt(part.tension / part.linearDensity) / (2 * part.length);
    for (const h of [0, 1, Number.POSITIVE_INFINITY])
      expect(soundingFrequency({ ...part, bendingStiffness: 0, ends: [h, h] }, 3)).toBeCloseTo(3 * ideal, 9);
  });
});
