import { describe, expect, it } from "vitest";
import { exteriorField, exteriorFrequencies } from "#engine/air";
import { type KernelSource, opened, placeOf, quiet, seededRandom, typescriptKernels } from "#engine/numerics";
import { sphereSurface } from "../proofs/air/exteriorShapes.ts";
import { wasmKernels } from "./index.ts";

/** A random complex matrix, right sides, and the solution by a source of kernels: its name and the worst residual. */
function solveBy(source: KernelSource, n: number, columns: number) {
  const random = seededRandom(7);
  const size = 2 * n * n + 2 * n * columns;
  const kernels = source(size + 10 * n + 16);
  const a = kernels.allocate(2 * n * n);
  const b = kernels.allocate(2 * n * columns);
  const pivot = kernels.allocateIndices(n);
  const scratch = placeOf(kernels.allocate(8 * n));
  for (let i = 0; i < a.length; i++) a[i] = random() - 0.5;
  for (let i = 0; i < b.length; i++) b[i] = random() - 0.5;
  const [a0, b0] = [a.slice(), b.slice()];
  const [re, im] = [placeOf(a), placeOf(a) + n * n];
  const code = kernels.complexLu.factorComplex(re, im, n, 1e-14, placeOf(pivot), scratch);
  kernels.complexLu.solveComplex(
    re,
    im,
    n,
    placeOf(pivot),
    placeOf(b),
    placeOf(b) + n * columns,
    columns,
    scratch,
  );
  let worst = 0;
  for (let i = 0; i < n; i++) {
    for (let c = 0; c < columns; c++) {
      let [sumRe, sumIm] = [-b0[i * columns + c], -b0[n * columns + i * columns + c]];
      for (let k = 0; k < n; k++) {
        const [p, q] = [a0[i * n + k], a0[n * n + i * n + k]];
        const [x, y] = [b[k * columns + c], b[n * columns + k * columns + c]];
        sumRe += p * x - q * y;
        sumIm += p * y + q * x;
      }
      worst = Math.max(worst, Math.hypot(sumRe, sumIm));
    }
  }
  return { name: kernels.name, code, worst, x: b.slice() };
}

describe("complexLu", () => {
  for (const [n, columns] of [
    [1, 1],
    [23, 3],
    [50, 5],
    [97, 8],
  ]) {
    it(`solves ${n} equations for ${columns} right sides by either twin`, () => {
      const wasm = solveBy(wasmKernels, n, columns);
      const plain = solveBy(typescriptKernels, n, columns);
      expect([wasm.name, plain.name]).toEqual(["wasm", "typescript"]);
      expect([wasm.code, plain.code]).toEqual([0, 0]);
      expect(Math.max(wasm.worst, plain.worst)).toBeLessThan(1e-10);
      expect(Math.max(...wasm.x.map((v, i) => Math.abs(v - plain.x[i])))).toBeLessThan(1e-9);
    });
  }

  it("names the column that has no pivot", () => {
    for (const source of [wasmKernels, typescriptKernels]) {
      const n = 30;
      const kernels = source(2 * n * n + 10 * n + 16);
      const a = kernels.allocate(2 * n * n);
      const random = seededRandom(3);
      for (let i = 0; i < a.length; i++) a[i] = i % n === 26 ? 0 : random();
      const pivot = placeOf(kernels.allocateIndices(n));
      const scratch = placeOf(kernels.allocate(8 * n));
      const re = placeOf(a);
      expect(kernels.complexLu.factorComplex(re, re + n * n, n, 1e-12, pivot, scratch)).toBe(27);
    }
  });

  for (const n of [1, 24, 61]) {
    it(`solves ${n} real equations for 5 right sides by either twin, and names a column without pivot`, () => {
      const [wasm, plain] = [wasmKernels, typescriptKernels].map((source) => {
        const random = seededRandom(11);
        const kernels = source(2 * n * n + 15 * n + 32);
        const [a, b] = [kernels.allocate(n * n), kernels.allocate(5 * n)];
        const pivot = kernels.allocateIndices(n);
        const scratch = placeOf(kernels.allocate(4 * n));
        a.forEach((_, i) => {
          a[i] = random() - 0.5;
        });
        b.forEach((_, i) => {
          b[i] = random() - 0.5;
        });
        const [a0, b0] = [a.slice(), b.slice()];
        const lu = kernels.complexLu;
        expect(lu.factorReal(placeOf(a), n, 1e-14, placeOf(pivot), scratch)).toBe(0);
        lu.solveReal(placeOf(a), n, placeOf(pivot), placeOf(b), 5, scratch);
        const x = b.slice();
        for (let i = 0; i < n; i++)
          for (let c = 0; c < 5; c++) {
            let sum = -b0[5 * i + c];
            for (let k = 0; k < n; k++) sum += a0[n * i + k] * x[5 * k + c];
            expect(Math.abs(sum)).toBeLessThan(1e-10);
          }
        a.set(a0.map((v, i) => (i % n === n - 1 ? 0 : v)));
        expect(lu.factorReal(placeOf(a), n, 1e-14, placeOf(pivot), scratch)).toBe(n);
        return x;
      });
      expect(Math.max(...wasm.map((v, i) => Math.abs(v - plain[i])))).toBeLessThan(1e-9);
    });
  }

  it("multiplies real rows of any number by either twin", () => {
    for (const source of [wasmKernels, typescriptKernels]) {
      const [m, k, n] = [7, 9, 6];
      const kernels = source(m * k + k * n + m * n + 4 * k + 16);
      const [a, b, c] = [m * k, k * n, m * n].map((size) => kernels.allocate(size));
      const scratch = placeOf(kernels.allocate(4 * k));
      a.forEach((_, i) => {
        a[i] = Math.sin(i);
      });
      b.forEach((_, i) => {
        b[i] = Math.cos(i);
      });
      c.fill(1);
      kernels.complexLu.multiplyRows(m, k, n, placeOf(a), k, placeOf(b), n, placeOf(c), n, scratch);
      for (let i = 0; i < m; i++) {
        for (let j = 0; j < n; j++) {
          let sum = 1;
          for (let l = 0; l < k; l++) sum += Math.sin(i * k + l) * Math.cos(l * n + j);
          expect(c[i * n + j]).toBeCloseTo(sum, 12);
        }
      }
    }
  });
});

describe("wavePairs", () => {
  it("gives the outer air of a sphere by either twin, plain and combined", () => {
    const surface = sphereSurface(3, 0.3);
    const panels = surface.triangles.length / 3;
    const patterns = Float64Array.from({ length: 3 * panels }, (_, i) => Math.sin(0.1 * i * i));
    const by = (kernels: KernelSource) =>
      opened(
        exteriorField(
          surface,
          patterns,
          {
            frequencies: exteriorFrequencies(4, 900),
            listeners: Float64Array.of(0, 0, 1),
            density: 1.2,
            soundSpeed: 343,
          },
          { ...quiet, kernels },
        ),
      );
    const [wasm, plain] = [by(wasmKernels), by(typescriptKernels)];
    expect(Math.max(...wasm.checks.combination)).toBe(1);
    expect(Math.min(...wasm.checks.combination)).toBe(0);
    for (const name of ["mass", "resistance", "pressureRe", "pressureIm"] as const) {
      const most = Math.max(...plain[name].map(Math.abs));
      expect(most).toBeGreaterThan(0);
      expect(Math.max(...plain[name].map((v, i) => Math.abs(v - wasm[name][i])))).toBeLessThan(1e-10 * most);
    }
  });
});
