import { describe, expect, it } from "vitest";
import { type KernelSource, lowestDense, opened, seededRandom, typescriptKernels } from "#engine/numerics";
import { wasmKernels } from "./index.ts";

/** A pair of symmetric matrices with a spread spectrum and one close pair. */
function pencil(n: number): { a: Float64Array; b: Float64Array } {
  const random = seededRandom(n);
  const a = new Float64Array(n * n);
  const b = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      a[i * n + j] = a[j * n + i] = i === j ? 1 + i * i : 0.05 * (random() - 0.5);
      b[i * n + j] = b[j * n + i] = i === j ? 1 : (0.2 * (random() - 0.5)) / Math.sqrt(n);
    }
  }
  if (n > 3) a[n + 1] = a[2 * n + 2] + 1e-9;
  return { a, b };
}

const sources: readonly (readonly [string, KernelSource])[] = [
  ["typescript", typescriptKernels],
  ["wasm", wasmKernels],
];

describe("lowestDense", () => {
  for (const [name, source] of sources) {
    it(`${name}: pairs solve the problem and are orthonormal, for odd and even orders`, () => {
      expect(source(16).name).toBe(name);
      for (const n of [1, 2, 5, 8, 31, 64]) {
        const { a, b } = pencil(n);
        const count = Math.min(n, 20);
        const { values, vectors } = opened(lowestDense(a, b, n, count, source));
        expect([...values]).toEqual([...values].sort((x, y) => x - y));
        for (let k = 0; k < count; k++) {
          const x = vectors.subarray(k * n, k * n + n);
          for (let i = 0; i < n; i++) {
            let residual = 0;
            for (let j = 0; j < n; j++) residual += (a[i * n + j]! - values[k]! * b[i * n + j]!) * x[j]!;
            expect(Math.abs(residual)).toBeLessThan(1e-13 * a[n * n - 1]! * n);
          }
          for (let q = 0; q <= k; q++) {
            let product = 0;
            for (let i = 0; i < n; i++)
              for (let j = 0; j < n; j++) product += x[i]! * b[i * n + j]! * vectors[q * n + j]!;
            expect(Math.abs(product - (q === k ? 1 : 0))).toBeLessThan(1e-11);
          }
        }
      }
    });
    it(`${name}: a right-hand matrix that is not positive definite is refused`, () => {
      const b = Float64Array.of(1, 1, 1, 1);
      const solved = lowestDense(Float64Array.of(1, 0, 0, 2), b, 2, 2, source);
      expect(solved.ok ? "" : solved.reason).toBe("not-positive-definite");
    });
  }
  it("either twin finds the lowest values that were put in", () => {
    // A = B^(1/2) diag(1, 4, 9) B^(1/2) for B = diag(4, 1, 1/4): values 1, 4, 9 whatever B
    const a = Float64Array.of(4, 0, 0, 0, 4, 0, 0, 0, 2.25);
    const b = Float64Array.of(4, 0, 0, 0, 1, 0, 0, 0, 0.25);
    for (const [, source] of sources) {
      const { values } = opened(lowestDense(a, b, 3, 2, source));
      expect(values[0]).toBeCloseTo(1, 14);
      expect(values[1]).toBeCloseTo(4, 14);
    }
  });
});
