import { describe, expect, it } from "vitest";
import { draws } from "./draws.ts";

describe("draws", () => {
  it("are the same for the same path and seed, and others for another path or seed", () => {
    expect(draws("top.wood.density", 3, 40)).toEqual(draws("top.wood.density", 3, 40));
    expect(draws("top.wood.density", 3, 40)).not.toEqual(draws("back.wood.density", 3, 40));
    expect(draws("top.wood.density", 3, 40)).not.toEqual(draws("top.wood.density", 4, 40));
  });
  it("start alike whatever their number", () => {
    expect([...draws("a", 1, 64).subarray(0, 10)]).toEqual([...draws("a", 1, 10)]);
  });
  it("have mean 0 exactly and the spread of a normal value cut off at 2.5", () => {
    const z = draws("sides.thickness", 1, 20000);
    expect(z.reduce((a, b) => a + b, 0)).toBe(0);
    // closed form: 1 - 2 a phi(a) / (2 Phi(a) - 1) with a = 2.5 is 0.9113
    expect(z.reduce((a, b) => a + b * b, 0) / z.length).toBeCloseTo(0.9113, 1);
    expect(Math.max(...z)).toBeLessThanOrEqual(2.5);
    expect(z.filter((v) => v > 1).length / z.length).toBeCloseTo(0.1587 - 0.0062, 2);
  });
});
