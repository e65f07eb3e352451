import { describe, expect, it } from "vitest";
import { meanRadius, meanStress } from "./meanStress.ts";

/** A strip of squares of `size`, each of two triangles; `stress` along at the inside face by place. */
function strip(size: number, stress: (x: number, y: number) => number) {
  const n = Math.round(0.1 / size);
  const nodes: number[] = [];
  const triangles: number[] = [];
  for (let i = 0; i <= n; i++) for (let j = 0; j <= n; j++) nodes.push(i * size, j * size, 0);
  const at = (i: number, j: number) => i * (n + 1) + j;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      triangles.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
  const map = new Float64Array(2 * nodes.length);
  for (let k = 0; k < nodes.length / 3; k++) map[6 * k] = stress(nodes[3 * k]!, nodes[3 * k + 1]!);
  return meanStress(Float64Array.from(nodes), Uint32Array.from(triangles), map);
}

describe("mean stress", () => {
  it("of an even stress is that stress, everywhere, edges too", () => {
    expect(strip(2e-3, () => 5e6).along.tension.value).toBeCloseTo(5e6, 3);
  });

  it("of a stress that runs straight is its value in the middle of the disc", () => {
    const slope = 1e8;
    const { tension } = strip(1e-3, (x) => slope * (x < 0.05 ? x : 0.1 - x)).along;
    // a ridge: the mean falls short of its top by the mean distance from a diameter, 4 r / 3 pi
    expect(tension.x).toBeCloseTo(0.05, 9);
    expect(tension.value / (slope * (0.05 - (4 * meanRadius) / (3 * Math.PI)))).toBeCloseTo(1, 2);
  });

  it("of a peak that grows as 1/sqrt(r) does not grow with a finer mesh: 4/3 of its value at the disc's rim", () => {
    const peak = (x: number, y: number) => 1e6 / Math.sqrt(Math.max(1e-4, Math.hypot(x - 0.05, y - 0.05)));
    const [coarse, fine] = [2e-3, 1e-3].map((size) => strip(size, peak).along.tension.value);
    // closed form: (1/pi r^2) integral of s^-1/2 2 pi s ds = (4/3) r^-1/2
    const exact = (4 / 3) * 1e6 * meanRadius ** -0.5;
    expect(Math.abs(coarse! / exact - 1)).toBeLessThan(0.1);
    expect(Math.abs(fine! / exact - 1)).toBeLessThan(0.05);
  });

  it("leaves out nodes in solid blocks, where all six are nought", () => {
    const { tension } = strip(2e-3, (x) => (x < 0.05 ? 0 : 4e6)).along;
    expect(tension.value).toBeCloseTo(4e6, 3);
  });
});
