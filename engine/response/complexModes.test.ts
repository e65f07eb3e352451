import { describe, expect, it } from "vitest";
import { complexModes } from "./complexModes.ts";

/** A with the diagonal and, beside it, what couples neighbours. */
function matrix(
  diagonal: readonly (readonly [number, number])[],
  beside: (i: number, j: number) => [number, number],
) {
  const n = diagonal.length;
  const re = new Float64Array(n * n);
  const im = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [a, b] = i === j ? diagonal[i] : beside(Math.min(i, j), Math.max(i, j));
      re[i * n + j] = a;
      im[i * n + j] = b;
    }
  }
  return { n, re, im };
}

const unitForms = (n: number) => Float64Array.from({ length: n * n }, (_, k) => (k % (n + 1) === 0 ? 1 : 0));

describe("complexModes", () => {
  it("gives back the matrix: A = U diag(values) U', U'U = 1", () => {
    const a = matrix(
      Array.from({ length: 9 }, (_, i) => [1 + 0.1 * i + 0.04 * Math.sin(3 * i), 0.01 + 0.004 * Math.cos(i)]),
      (i, j) => [1e-3 * Math.sin(i * j), 0.004 * Math.cos(i + 2 * j)],
    );
    const { n } = a;
    const modes = complexModes(a.re.slice(), a.im.slice(), n, unitForms(n), new Float64Array(n * n));
    const { rowsRe: u, rowsIm: v } = modes;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let [re, im, one, zero] = [0, 0, 0, 0];
        for (let k = 0; k < n; k++) {
          const pr = u[i * n + k] * u[j * n + k] - v[i * n + k] * v[j * n + k];
          const pi = u[i * n + k] * v[j * n + k] + v[i * n + k] * u[j * n + k];
          re += pr * modes.re[k] - pi * modes.im[k];
          im += pr * modes.im[k] + pi * modes.re[k];
          one += pr;
          zero += pi;
        }
        expect(Math.abs(re - a.re[i * n + j])).toBeLessThan(3e-5);
        expect(Math.abs(im - a.im[i * n + j])).toBeLessThan(3e-5);
        expect(Math.abs(one - (i === j ? 1 : 0))).toBeLessThan(2e-5);
        expect(Math.abs(zero)).toBeLessThan(2e-5);
      }
    }
    expect(modes.merged.size).toBe(0);
  });

  it("meets the quadratic of two modes coupled by loss", () => {
    const a = matrix(
      [
        [1, 0.03],
        [1.1, 0.05],
      ],
      () => [0, 0.02],
    );
    const { re, im } = complexModes(a.re, a.im, 2, new Float64Array(0), new Float64Array(0));
    for (const k of [0, 1]) {
      const det = {
        re: (1 - re[k]) * (1.1 - re[k]) - (0.03 - im[k]) * (0.05 - im[k]) + 0.02 ** 2,
        im: (1 - re[k]) * (0.05 - im[k]) + (0.03 - im[k]) * (1.1 - re[k]),
      };
      expect(Math.hypot(det.re, det.im)).toBeLessThan(1e-12);
    }
    expect(re[0]).toBeLessThan(re[1]);
  });

  it("marks a pair that damping has made one: equal values, coupling i half their distance", () => {
    const a = matrix(
      [
        [1, 0.02],
        [1.02, 0.02],
      ],
      () => [0, 0.01],
    );
    const modes = complexModes(a.re, a.im, 2, new Float64Array(0), new Float64Array(0));
    expect([...modes.merged].sort()).toEqual([0, 1]);
  });
});
