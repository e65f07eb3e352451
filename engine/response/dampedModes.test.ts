import { describe, expect, it } from "vitest";
import { dampedModes, type ModalSystem } from "./dampedModes.ts";

const still = { stiffness: 1e7, leak: 0, wallHeat: 0, viscous: 0, radiation: 0 };

function system(
  square: readonly number[],
  loss: readonly number[],
  change: Partial<ModalSystem> = {},
): ModalSystem {
  const count = square.length;
  return {
    count,
    square: Float64Array.from(square),
    loss: Float64Array.from(loss),
    flow: new Float64Array(count),
    hole: new Float64Array(count),
    air: still,
    ...change,
  };
}

describe("dampedModes", () => {
  it("meets w = w0 sqrt(1 + i eta) for one mode of lossy wood", () => {
    const { w, lossShare } = dampedModes(system([1e6], [0.04e6]));
    const half = 0.5 * Math.atan(0.04);
    const size = 1000 * (1 + 0.04 ** 2) ** 0.25;
    expect(w[0].re).toBeCloseTo(size * Math.cos(half), 9);
    expect(w[0].im).toBeCloseTo(size * Math.sin(half), 9);
    expect(Array.from(lossShare)).toEqual([1, 0, 0]);
  });

  it("meets the quadratic of two modes coupled by loss", () => {
    const [a, b, d] = [1e6, 1.1e6, 2e4];
    const { w } = dampedModes(system([a, b], [3e4, d, d, 5e4]));
    // lambda = w^2 of [[a + 3e4 i, d i], [d i, b + 5e4 i]]: check that the determinant vanishes.
    for (const { re, im } of w) {
      const [lr, li] = [re * re - im * im, 2 * re * im];
      const det = {
        re: (a - lr) * (b - lr) - (3e4 - li) * (5e4 - li) + d * d,
        im: (a - lr) * (5e4 - li) + (3e4 - li) * (b - lr),
      };
      expect(Math.hypot(det.re, det.im)).toBeLessThan(1e-8 * a * b);
    }
    expect(w[0].re).toBeLessThan(w[1].re);
  });

  it("loses by radiation i w^3 r b^2 and by friction i w^1.5 v e^2, share by share", () => {
    const air = { ...still, radiation: 2e-5, viscous: 0.3 };
    const one = { flow: Float64Array.of(0.5), hole: Float64Array.of(0.8), air };
    const { w, lossShare } = dampedModes(system([1e6], [1e4], one));
    const radiated = 1e9 * 2e-5 * 0.25;
    const rubbed = 1000 ** 1.5 * 0.3 * 0.64;
    const total = 1e4 + radiated + rubbed;
    expect(lossShare[0]).toBeCloseTo(1e4 / total, 4);
    expect(lossShare[1]).toBeCloseTo(rubbed / total, 4);
    expect(lossShare[2]).toBeCloseTo(radiated / total, 4);
    expect((2 * w[0].im) / w[0].re / (total / 1e6)).toBeCloseTo(1, 2);
  });

  it("changes nothing that matters by leaving far modes out of the search", () => {
    const n = 40;
    const square = Array.from({ length: n }, (_, i) => (600 + 90 * i + 30 * Math.sin(5 * i)) ** 2);
    const loss = new Array<number>(n * n).fill(0);
    for (let i = 0; i < n; i++) loss[i * n + i] = 0.02 * square[i];
    const flow = Float64Array.from({ length: n }, (_, i) => 0.2 * Math.cos(3 * i * i));
    const change = { flow, air: { ...still, radiation: 2.8e-4 } };
    const near = dampedModes(system(square, loss, change));
    const all = dampedModes(system(square, loss, change), n);
    for (let i = 0; i < 8; i++) {
      expect(near.w[i].re / all.w[i].re).toBeCloseTo(1, 3);
      expect(near.w[i].im / all.w[i].im).toBeCloseTo(1, 2);
    }
  });

  it("marks a mode that is lost inside its neighbour, and keeps its first-order value", () => {
    const { firstOrder, w } = dampedModes(system([1e6, 1e6 + 1], [5e4, 4.9e4, 4.9e4, 5e4]));
    expect(firstOrder).toEqual([true, true]);
    for (const v of w) expect(v.im / v.re).toBeCloseTo(0.025, 3);
  });
});
