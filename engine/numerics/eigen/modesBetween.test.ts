import { describe, expect, it } from "vitest";
import { wasmKernels } from "#kernels";
import { opened, quiet } from "../outcome.ts";
import {
  addElements,
  type SparseSymmetric,
  symmetricMultiply,
  symmetricPattern,
} from "../sparse/symmetric.ts";
import { joinSlices } from "./joinSlices.ts";
import { modesBelow } from "./modesBelow.ts";
import { countBelow, modesBetween } from "./modesBetween.ts";

/** A free rectangle of unit springs and unit masses. */
function freeGrid(across: number, along: number): { k: SparseSymmetric; m: SparseSymmetric } {
  const n = across * along;
  const links: Int32Array[] = [];
  for (let i = 0; i < n; i++) {
    if ((i % across) + 1 < across) links.push(Int32Array.of(i, i + 1));
    if (i + across < n) links.push(Int32Array.of(i, i + across));
  }
  const k = symmetricPattern(n, links);
  for (const link of links) addElements([k], link, [Float64Array.of(1, -1, -1, 1)]);
  const m = symmetricPattern(n, []);
  m.values.fill(1);
  return { k, m };
}

/** Closed form of the discrete Laplacian with free edges, ascending. */
function gridValues(across: number, along: number): number[] {
  const one = (side: number): number[] =>
    Array.from({ length: side }, (_, i) => 2 - 2 * Math.cos((Math.PI * i) / side));
  return one(across)
    .flatMap((a) => one(along).map((b) => a + b))
    .sort((a, b) => a - b);
}

const wasm = { ...quiet, kernels: wasmKernels };

describe("modesBetween", () => {
  const { k, m } = freeGrid(40, 31);
  const exact = gridValues(40, 31);

  it("counts eigenvalues below any place as the closed form does", () => {
    for (const lambda of [1e-4, 0.05, 0.3, 1.01, 4.03, 7.9]) {
      const wanted = exact.filter((v) => v < lambda).length;
      expect(opened(countBelow(k, m, lambda, {}, wasm))).toBe(wanted);
      expect(opened(countBelow(k, m, lambda, {}, quiet))).toBe(wanted);
    }
  });

  it("finds every mode of a slice anywhere in the spectrum, by either twin of the kernels", () => {
    for (const [from, to] of [
      [0, 0.06],
      [0.3, 0.52],
      [3.9, 4.02],
      [7.6, 8.5],
    ]) {
      const wanted = exact.filter((v) => v >= from! && v < to!);
      const fast = opened(modesBetween(k, m, { from: from!, to: to! }, wasm));
      const slow = opened(modesBetween(k, m, { from: from!, to: to! }, quiet));
      expect([fast.ran, slow.ran]).toEqual(["wasm", "typescript"]);
      for (const slice of [fast, slow]) {
        expect(slice.below).toBe(exact.filter((v) => v < from!).length);
        expect(slice.values.length).toBe(wanted.length);
        expect(Math.max(...slice.values.map((v, i) => Math.abs(v - wanted[i]!)))).toBeLessThan(1e-11);
        expect(Math.max(...slice.residuals)).toBeLessThan(1e-7);
      }
    }
  });

  it("finds double eigenvalues with both their vectors", () => {
    const square = freeGrid(30, 30);
    const wanted = gridValues(30, 30).filter((v) => v > 0.2 && v < 0.5);
    const slice = opened(modesBetween(square.k, square.m, { from: 0.2, to: 0.5 }, wasm));
    expect(Math.max(...slice.values.map((v, i) => Math.abs(v - wanted[i]!)))).toBeLessThan(1e-11);
    const count = wanted.length;
    expect(slice.values.length).toBe(count);
    const mx = symmetricMultiply(square.m, slice.vectors, count);
    for (let a = 0; a < count; a++)
      for (let b = 0; b <= a; b++) {
        let sum = 0;
        for (let i = 0; i < 900; i++) sum += slice.vectors[a * 900 + i] * mx[b * 900 + i];
        expect(Math.abs(sum - (a === b ? 1 : 0))).toBeLessThan(1e-8);
      }
  });

  it("joins slices that were not counted between, and notices a mode that was lost", () => {
    const low = opened(modesBelow(k, m, { to: 0.2, countTo: false, expected: 30 }, wasm));
    const high = opened(modesBetween(k, m, { from: 0.2, to: 0.4, countFrom: false, expected: 30 }, wasm));
    const joined = opened(joinSlices([low, high]));
    const wanted = exact.filter((v) => v < 0.4);
    expect(joined.values.length).toBe(wanted.length);
    expect(Math.max(...joined.values.map((v, i) => Math.abs(v - wanted[i]!)))).toBeLessThan(1e-11);
    const robbed = { ...low, values: low.values.slice(1) };
    expect(joinSlices([robbed, high])).toMatchObject({ ok: false, reason: "modes-missed" });
  });

  it("gives the rigid motion of a free body as zero and keeps a factor for static loads", () => {
    const found = opened(modesBelow(k, m, { to: 0.1 }, wasm));
    expect(Math.abs(found.values[0])).toBeLessThan(1e-13);
    expect(found.values.length).toBe(exact.filter((v) => v < 0.1).length);
    const b = Float64Array.from({ length: 2 * k.n }, (_, i) => Math.sin(i));
    const x = found.solve(b, 2);
    const back = symmetricMultiply(k, x, 2).map((v, i) => v + found.solveShift * x[i]);
    expect(Math.max(...back.map((v, i) => Math.abs(v - b[i])))).toBeLessThan(1e-10);
  });

  it("keeps a rigid motion that is known out of the iteration, and finds out one that is not rigid", () => {
    const rigid = new Float64Array(k.n).fill(3);
    const found = opened(modesBelow(k, m, { to: 0.1, rigid }, wasm));
    const wanted = exact.filter((v) => v < 0.1);
    expect(found.values.length).toBe(wanted.length);
    expect(Math.max(...found.values.map((v, i) => Math.abs(v - wanted[i]!)))).toBeLessThan(1e-12);
    expect(found.vectors[5]).toBeCloseTo(1 / Math.sqrt(k.n), 12);
    const bent = rigid.map((v, i) => v + (i % 40));
    expect(modesBelow(k, m, { to: 0.1, rigid: bent }, wasm).ok).toBe(false);
  });

  it("returns an empty slice where there is nothing", () => {
    const [a, b] = [exact[200]!, exact[201]!];
    const slice = opened(modesBetween(k, m, { from: a + 0.3 * (b - a), to: a + 0.6 * (b - a) }, wasm));
    expect(slice.values.length).toBe(0);
    expect(slice.below).toBe(201);
  });

  it("moves a shift that falls on an eigenvalue", () => {
    const slice = opened(modesBetween(k, m, { from: 0.15, to: 0.45, shift: exact[40]! }, wasm));
    const wanted = exact.filter((v) => v > 0.15 && v < 0.45);
    expect(slice.values.length).toBe(wanted.length);
    expect(Math.max(...slice.values.map((v, i) => Math.abs(v - wanted[i]!)))).toBeLessThan(1e-9);
  });

  it("names an unknown that nothing holds and nothing weighs", () => {
    const loose = 77;
    const values = k.values.slice();
    for (let j = 0; j < k.n; j++)
      for (let p = k.colStart[j]; p < k.colStart[j + 1]; p++)
        if (j === loose || k.rowIndex[p] === loose) values[p] = 0;
    const weights = m.values.slice();
    weights[loose] = 0;
    const outcome = modesBelow({ ...k, values }, { ...m, values: weights }, { to: 0.1 }, wasm);
    expect(outcome).toMatchObject({ ok: false, reason: "singular" });
    expect(outcome.ok ? "" : outcome.detail).toContain("degree of freedom 77 ");
  });

  it("stops when told to", () => {
    let looks = 0;
    const context = { ...wasm, cancelled: () => ++looks > 20 };
    expect(modesBetween(k, m, { from: 0.2, to: 0.6 }, context)).toMatchObject({ reason: "cancelled" });
  });
});
