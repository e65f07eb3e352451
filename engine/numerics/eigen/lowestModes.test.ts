import { describe, expect, it } from "vitest";
import { opened, quiet } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import {
  addElements,
  type SparseSymmetric,
  symmetricMultiply,
  symmetricPattern,
} from "../sparse/symmetric.ts";
import type { Eigenpairs } from "./iteratedModes.ts";
import { lowestModes } from "./lowestModes.ts";

/** Springs along the edges of a grid of points, each end wall held if `held`; unit masses. */
function springGrid(sides: readonly number[], held: boolean): SparseSymmetric {
  const n = sides.reduce((product, s) => product * s, 1);
  const links: { dofs: Int32Array; fixed: boolean }[] = [];
  let stride = 1;
  for (const side of sides) {
    for (let i = 0; i < n; i++) {
      const along = Math.floor(i / stride) % side;
      if (along + 1 < side) links.push({ dofs: Int32Array.of(i, i + stride), fixed: false });
      if (held && along === 0) links.push({ dofs: Int32Array.of(i), fixed: true });
      if (held && along === side - 1) links.push({ dofs: Int32Array.of(i), fixed: true });
    }
    stride *= side;
  }
  const k = symmetricPattern(
    n,
    links.map((l) => l.dofs),
  );
  for (const { dofs, fixed } of links)
    addElements([k], dofs, [fixed ? Float64Array.of(1) : Float64Array.of(1, -1, -1, 1)]);
  return k;
}

/** Closed form: the sum over directions of 2 - 2 cos(pi m / (side + 1)), or of 2 - 2 cos(pi m / side) from m = 0 if free. */
function springGridValues(sides: readonly number[], held: boolean, count: number): number[] {
  let sums = [0];
  for (const side of sides) {
    const one = Array.from({ length: side }, (_, i) =>
      held ? 2 - 2 * Math.cos((Math.PI * (i + 1)) / (side + 1)) : 2 - 2 * Math.cos((Math.PI * i) / side),
    );
    sums = sums.flatMap((s) => one.map((v) => s + v));
  }
  return sums.sort((a, b) => a - b).slice(0, count);
}

function diagonalMatrix(values: readonly number[]): SparseSymmetric {
  const m = symmetricPattern(values.length, []);
  values.forEach((v, i) => {
    addElements([m], Int32Array.of(i), [Float64Array.of(v)]);
  });
  return m;
}

const ones = (n: number): SparseSymmetric => diagonalMatrix(Array.from({ length: n }, () => 1));

/** Largest deviation of X' M X from the unit matrix. */
function orthonormalityGap(pairs: Eigenpairs, m: SparseSymmetric): number {
  const count = pairs.values.length;
  const mx = symmetricMultiply(m, pairs.vectors, count);
  let worst = 0;
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) {
      let sum = a === b ? -1 : 0;
      for (let i = 0; i < m.n; i++) sum += pairs.vectors[a * m.n + i] * mx[b * m.n + i];
      worst = Math.max(worst, Math.abs(sum));
    }
  }
  return worst;
}

function worstGap(found: Float64Array, wanted: readonly number[], scale = 0): number {
  return Math.max(...wanted.map((w, i) => Math.abs(found[i] - w) / (Math.abs(w) + scale)));
}

describe("lowestModes", () => {
  it("finds the modes of a rectangle of springs, which are known in closed form", () => {
    const sides = [41, 23];
    const k = springGrid(sides, true);
    const pairs = opened(lowestModes(k, ones(k.n), { count: 40 }, quiet));
    expect(worstGap(pairs.values, springGridValues(sides, true, 40))).toBeLessThan(1e-11);
    expect(orthonormalityGap(pairs, ones(k.n))).toBeLessThan(1e-9);
    expect(Math.max(...pairs.residuals)).toBeLessThan(1e-8);
  });

  it("finds the double modes of a square and the sixfold ones of a cube, none missing", () => {
    for (const sides of [
      [30, 30],
      [11, 11, 11],
      [2, 8, 8, 8],
    ]) {
      const k = springGrid(sides, true);
      const pairs = opened(lowestModes(k, ones(k.n), { count: 45 }, quiet));
      expect(worstGap(pairs.values, springGridValues(sides, true, 45))).toBeLessThan(1e-11);
      expect(orthonormalityGap(pairs, ones(k.n))).toBeLessThan(1e-9);
    }
  });

  it("finds the rigid motion of a free body with a shift, and refuses without one", () => {
    const k = springGrid([25, 20], false);
    const wanted = springGridValues([25, 20], false, 30);
    expect(lowestModes(k, ones(k.n), { count: 30 }, quiet)).toMatchObject({
      reason: "not-positive-definite",
    });
    const pairs = opened(lowestModes(k, ones(k.n), { count: 30, shift: 0.01 }, quiet));
    expect(worstGap(pairs.values, wanted, 0.01)).toBeLessThan(1e-11);
    expect(Math.abs(pairs.values[0])).toBeLessThan(1e-13);
  });

  it("stands a mass matrix with two massless unknowns in three, as if they were condensed out", () => {
    // Unknowns without mass follow the others statically: three equal springs in a row act as one of a third.
    const masses = 120;
    const n = 3 * masses + 2;
    const links = Array.from({ length: n - 1 }, (_, i) => Int32Array.of(i, i + 1));
    const k = symmetricPattern(n, links);
    for (const dofs of links) addElements([k], dofs, [Float64Array.of(1, -1, -1, 1)]);
    addElements([k], Int32Array.of(0), [Float64Array.of(1)]);
    addElements([k], Int32Array.of(n - 1), [Float64Array.of(1)]);
    const m = diagonalMatrix(Array.from({ length: n }, (_, i) => (i % 3 === 2 ? 1 : 0)));
    const wanted = springGridValues([masses], true, 50).map((v) => v / 3);
    const pairs = opened(lowestModes(k, m, { count: 50 }, quiet));
    expect(worstGap(pairs.values, wanted)).toBeLessThan(1e-10);
    expect(orthonormalityGap(pairs, m)).toBeLessThan(1e-9);
    // The plain norm weighs fast motions more than the norm in which 1e-9 was asked.
    expect(Math.max(...pairs.residuals)).toBeLessThan(1e-7);
    // All 120 motions there are, and not one more.
    const all = opened(lowestModes(k, m, { count: 119 }, quiet));
    expect(
      worstGap(
        all.values,
        springGridValues([masses], true, 119).map((v) => v / 3),
      ),
    ).toBeLessThan(1e-9);
    expect(lowestModes(k, m, { count: 121 }, quiet)).toMatchObject({ ok: false, reason: "too-few-modes" });
  });

  it("says there are too few modes when a large system carries little mass", () => {
    const k = springGrid([20, 20], true);
    const m = diagonalMatrix(Array.from({ length: k.n }, (_, i) => (i % 40 === 0 ? 1 : 0)));
    expect(lowestModes(k, m, { count: 30 }, quiet)).toMatchObject({ ok: false, reason: "too-few-modes" });
    const few = opened(lowestModes(k, m, { count: 10 }, quiet));
    expect(Math.max(...few.residuals)).toBeLessThan(1e-8);
    expect(lowestModes(k, diagonalMatrix(new Array(k.n).fill(0)), { count: 3 }, quiet)).toMatchObject({
      ok: false,
    });
  });

  it("gives the same pairs as the dense solver on a random pencil, whatever the number asked", () => {
    const random = seededRandom(11);
    const elements = Array.from({ length: 160 }, (_, e) =>
      Int32Array.of(e, (e * 7 + 3) % 160, (e * 31 + 9) % 160),
    );
    const k = symmetricPattern(160, elements);
    const m = symmetricPattern(160, elements);
    for (const a of [k, m]) {
      for (const dofs of elements) {
        const b = Array.from({ length: 9 }, () => random());
        const ke = Float64Array.from({ length: 9 }, (_, q) => {
          const [i, j] = [Math.floor(q / 3), q % 3];
          return b[3 * i] * b[3 * j] + b[3 * i + 1] * b[3 * j + 1] + b[3 * i + 2] * b[3 * j + 2];
        });
        addElements([a], dofs, [ke]);
      }
    }
    const dense = opened(lowestModes(k, m, { count: 60 }, quiet)); // more than a third of all: solved densely
    for (const count of [1, 2, 5, 12, 30]) {
      const pairs = opened(lowestModes(k, m, { count }, quiet));
      expect(worstGap(pairs.values, Array.from(dense.values.subarray(0, count)))).toBeLessThan(1e-9);
    }
  });

  it("checks its pairs against K and M themselves, so that a careless tolerance is found out", () => {
    const k = springGrid([40, 40], true);
    const careless = lowestModes(k, ones(k.n), { count: 90, tolerance: 0.5 }, quiet);
    expect(careless).toMatchObject({ ok: false, reason: "not-converged" });
    expect(lowestModes(k, ones(k.n), { count: 90, tolerance: 1e-6 }, quiet)).toMatchObject({ ok: true });
  });

  it("stops when told to, and reports how far it is", () => {
    const k = springGrid([30, 30], true);
    let calls = 0;
    const seen: number[] = [];
    const context = { progress: (f: number) => seen.push(f), cancelled: () => ++calls > 14 };
    expect(lowestModes(k, ones(k.n), { count: 20 }, context)).toMatchObject({
      ok: false,
      reason: "cancelled",
    });
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.length).toBeGreaterThan(2);
  });
});
