import { describe, expect, it } from "vitest";
import { seededRandom } from "./seededRandom.ts";

describe("seededRandom", () => {
  it("repeats itself for one seed and differs for another", () => {
    const draw = (seed: number): number[] => {
      const random = seededRandom(seed);
      return Array.from({ length: 5 }, random);
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it("fills [0, 1) evenly: mean, variance and neighbour correlation of 100,000 draws", () => {
    const random = seededRandom(1);
    const x = Array.from({ length: 100_000 }, random);
    const mean = x.reduce((s, v) => s + v, 0) / x.length;
    const variance = x.reduce((s, v) => s + (v - mean) ** 2, 0) / x.length;
    const beside = x.slice(1).reduce((s, v, i) => s + (v - mean) * (x[i] - mean), 0) / x.length;
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.004);
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(0.001);
    expect(Math.abs(beside)).toBeLessThan(0.001);
    expect(Math.min(...x.slice(0, 1000))).toBeGreaterThanOrEqual(0);
  });
});
