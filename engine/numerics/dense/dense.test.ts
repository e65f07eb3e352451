import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import { choleskyDense, choleskySolve } from "./cholesky.ts";
import { complexLu, complexLuSolve } from "./complexLu.ts";
import { luSolve } from "./lu.ts";

const sizes = { seed: fc.integer({ min: 1, max: 1e6 }), n: fc.integer({ min: 1, max: 25 }) };
const randoms = (seed: number, count: number): Float64Array => {
  const random = seededRandom(seed);
  return Float64Array.from({ length: count }, () => random() - 0.5);
};

describe("dense solvers", () => {
  it("choleskySolve solves positive definite systems for two right-hand sides", () => {
    fc.assert(
      fc.property(sizes.seed, sizes.n, (seed, n) => {
        const b = randoms(seed, n * n);
        const a = new Float64Array(n * n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            for (let k = 0; k < n; k++) a[i * n + j] += b[i * n + k] * b[j * n + k];
            if (i === j) a[i * n + j] += 0.1;
          }
        }
        const wanted = randoms(seed + 1, 2 * n);
        const x = choleskySolve(opened(choleskyDense(a, n)), n, product(a, wanted, n, 2), 2);
        expect(Math.max(...x.map((v, i) => Math.abs(v - wanted[i])))).toBeLessThan(1e-10);
      }),
      { seed: 1 },
    );
  });

  it("choleskyDense names the row of an indefinite and of a rank-deficient matrix", () => {
    const indefinite = choleskyDense(Float64Array.of(1, 2, 2, 1), 2);
    expect(indefinite).toMatchObject({ ok: false, reason: "not-positive-definite" });
    expect(choleskyDense(Float64Array.of(1, 1, 1, 1), 2)).toMatchObject({ ok: false });
  });

  it("luSolve solves systems that need row exchanges, and refuses singular ones", () => {
    fc.assert(
      fc.property(sizes.seed, sizes.n, (seed, n) => {
        const a = randoms(seed, n * n);
        a[0] = 0;
        if (n === 1) a[0] = 2;
        const wanted = randoms(seed + 1, 3 * n);
        const x = luSolve(a, n, product(a, wanted, n, 3), 3);
        if (!x.ok) return; // hit a singular one by chance
        const back = product(a, x.value, n, 3);
        expect(Math.max(...back.map((v, i) => Math.abs(v - product(a, wanted, n, 3)[i])))).toBeLessThan(1e-8);
      }),
      { seed: 3 },
    );
    expect(luSolve(Float64Array.of(0, 1, 1, 0), 2, Float64Array.of(3, 4))).toMatchObject({ ok: true });
    expect(luSolve(Float64Array.of(1, 2, 2, 4), 2, Float64Array.of(1, 1))).toMatchObject({
      reason: "singular",
    });
  });

  it("complexLuSolve solves complex systems and gives their determinant", () => {
    fc.assert(
      fc.property(sizes.seed, sizes.n, (seed, n) => {
        const re = randoms(seed, n * n);
        const im = randoms(seed + 1, n * n);
        const x = randoms(seed + 2, n);
        const y = randoms(seed + 3, n);
        const lu = opened(complexLu(re, im, n));
        const bRe = product(re, x, n, 1).map((v, i) => v - product(im, y, n, 1)[i]);
        const bIm = product(re, y, n, 1).map((v, i) => v + product(im, x, n, 1)[i]);
        const found = complexLuSolve(lu, bRe, bIm);
        const gap = Math.max(...found.re.map((v, i) => Math.hypot(v - x[i], found.im[i] - y[i])));
        expect(gap).toBeLessThan(1e-8);
      }),
      { seed: 5 },
    );
    // (1 + i)(3) - (2i)(i) = 5 + 3i
    const { determinant } = opened(complexLu(Float64Array.of(1, 0, 0, 3), Float64Array.of(1, 2, 1, 0), 2));
    expect(determinant.re * 2 ** determinant.exponent).toBeCloseTo(5, 13);
    expect(determinant.im * 2 ** determinant.exponent).toBeCloseTo(3, 13);
    expect(complexLu(Float64Array.of(1, 1, 1, 1), Float64Array.of(1, 1, 1, 1), 2)).toMatchObject({
      ok: false,
    });
  });
});

function product(a: Float64Array, x: Float64Array, n: number, columns: number): Float64Array {
  const y = new Float64Array(n * columns);
  for (let c = 0; c < columns; c++)
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) y[c * n + i] += a[i * n + j] * x[c * n + j];
  return y;
}
