import { describe, expect, it } from "vitest";
import { restOnSupports } from "./restOnSupports.ts";

const supports = [
  { place: -0.1, height: 0 },
  { place: 0, height: 4e-4 },
  { place: 0.3, height: -3e-4 },
  { place: 0.31, height: 0 },
  { place: 0.65, height: 3e-3 },
  { place: 0.67, height: 3e-3 },
];
const tensions = supports.slice(1).map(() => 100);

describe("a string at rest on supports", () => {
  it("is a chain of straight parts without bending stiffness, each support bearing the pull times its kink", () => {
    const rest = restOnSupports(supports, tensions, 0);
    supports.slice(1).forEach((s, i) => {
      const from = supports[i]!;
      expect(rest.lengths[i]).toBeCloseTo(Math.hypot(s.place - from.place, s.height - from.height), 15);
    });
    const slope = (i: number) =>
      (supports[i + 1]!.height - supports[i]!.height) / (supports[i + 1]!.place - supports[i]!.place);
    for (const i of [1, 2, 3, 4]) expect(rest.reactions[i]).toBeCloseTo(100 * (slope(i - 1) - slope(i)), 10);
  });

  it("is in balance: forces and their moments about the first support add up to nothing", () => {
    const { reactions } = restOnSupports(supports, tensions, 5e-4);
    const largest = Math.max(...reactions.map(Math.abs));
    const forces = reactions.reduce((sum, r) => sum + r, 0);
    // the pull at the two ends, in line with the base, has an arm of the difference of their heights
    const moments = reactions.reduce((sum, r, i) => sum + r * (supports[i]!.place - supports[0]!.place), 0);
    expect(Math.abs(forces)).toBeLessThan(1e-12 * largest);
    expect(Math.abs(moments + 100 * (supports[0]!.height - supports[5]!.height))).toBeLessThan(
      1e-5 * largest,
    );
  });

  it("passes through every support, with one slope on both sides of it", () => {
    const { heightAt } = restOnSupports(supports, tensions, 5e-4);
    const h = 1e-8;
    for (const s of supports.slice(1, -1)) {
      expect(heightAt(s.place)).toBeCloseTo(s.height, 12);
      const before = (heightAt(s.place) - heightAt(s.place - h)) / h;
      const behind = (heightAt(s.place + h) - heightAt(s.place)) / h;
      // left: the cube of the slopes, 0.03 at most
      expect(Math.abs(behind - before)).toBeLessThan(2e-5);
    }
  });

  it("resists turning at a support from either side alike when mirrored, near sqrt(T) for long parts", () => {
    const mirrored = [...supports].reverse().map((s) => ({ place: -s.place, height: s.height }));
    const rest = restOnSupports(supports, tensions, 5e-4);
    const other = restOnSupports(mirrored, tensions, 5e-4);
    for (const i of [1, 2, 3, 4])
      expect(rest.turning(i, "before")).toBeCloseTo(other.turning(5 - i, "behind"), 12);
    expect(rest.turning(1, "behind") / 10).toBeCloseTo(1, 1);
  });
});
