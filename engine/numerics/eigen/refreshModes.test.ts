import { describe, expect, it } from "vitest";
import { wasmKernels } from "#kernels";
import { type Context, opened, quiet } from "../outcome.ts";
import {
  addElements,
  type SparseSymmetric,
  symmetricMultiply,
  symmetricPattern,
} from "../sparse/symmetric.ts";
import { lowestModes } from "./lowestModes.ts";
import { refreshModes, refreshState, refreshValues } from "./refreshModes.ts";

const side = 36;
const n = side * side;

/** A free sheet of springs; those in a small corner patch are `patch` times as stiff. */
function sheet(patch: number): SparseSymmetric {
  const links: { dofs: Int32Array; stiffness: number }[] = [];
  for (let i = 0; i < n; i++) {
    const inside = i % side < 6 && i < 6 * side;
    const stiffness = inside ? patch : 1;
    if ((i % side) + 1 < side) links.push({ dofs: Int32Array.of(i, i + 1), stiffness });
    if (i + side < n) links.push({ dofs: Int32Array.of(i, i + side), stiffness });
  }
  const k = symmetricPattern(
    n,
    links.map((l) => l.dofs),
  );
  for (const { dofs, stiffness: s } of links) addElements([k], dofs, [Float64Array.of(s, -s, -s, s)]);
  return k;
}

function weights(patch: number): SparseSymmetric {
  const m = symmetricPattern(n, []);
  for (let i = 0; i < n; i++) m.values[i] = i % side < 6 && i < 6 * side ? patch : 1;
  return m;
}

const twins: readonly Context[] = [{ ...quiet, kernels: wasmKernels }, quiet];
const shift = 0.01;

describe("refreshModes", () => {
  const before = { k: sheet(1), m: weights(1) };
  const after = { k: sheet(1.5), m: weights(1.2) };
  const old = opened(lowestModes(before.k, before.m, { count: 40, shift }, quiet));
  const exact = opened(lowestModes(after.k, after.m, { count: 24, shift }, quiet));

  it("brings the modes up to date after a local change, working anew only a part of the factor", () => {
    for (const context of twins) {
      const state = opened(refreshState(before.k, before.m, { shift, most: 40 }, context));
      const found = opened(refreshModes(state, after.k, after.m, old.vectors, 24, context));
      expect(found.ran).toBe(context.kernels === undefined ? "typescript" : "wasm");
      expect(found.refactored).toBeGreaterThan(0);
      expect(found.refactored).toBeLessThan(0.3 * found.supernodes);
      const moved = exact.values.map((v, i) => Math.abs(v - old.values[i]) / (v + shift));
      expect(Math.max(...moved)).toBeGreaterThan(5e-3);
      const left = exact.values.map((v, i) => Math.abs(v - found.values[i]) / (v + shift));
      expect(Math.max(...left)).toBeLessThan(3e-4);
      const mx = symmetricMultiply(after.m, found.vectors, 24);
      for (let c = 0; c < 24; c++) {
        let modal = 0;
        for (let i = 0; i < n; i++) modal += found.vectors[c * n + i] * mx[c * n + i];
        expect(modal).toBeCloseTo(1, 9);
      }
    }
  });

  // One pass takes the square of (lambda + shift) of the mode over that of the first one not given: a third, at the worst.
  it("converges to the modes when it is asked again, and has nothing left to factor then", () => {
    const [context] = twins;
    const state = opened(refreshState(before.k, before.m, { shift, most: 40 }, context!));
    let vectors = old.vectors;
    let refactored = -1;
    for (let pass = 0; pass < 8; pass++) {
      const next = opened(refreshModes(state, after.k, after.m, vectors, 40, context!));
      vectors = next.vectors;
      refactored = next.refactored;
    }
    expect(refactored).toBe(0);
    const final = opened(refreshModes(state, after.k, after.m, vectors, 24, context!));
    const left = exact.values.map((v, i) => Math.abs(v - final.values[i]) / (v + shift));
    expect(Math.max(...left)).toBeLessThan(1e-8);
    expect(Math.max(...final.residuals)).toBeLessThan(1e-4);
  });

  it("finds the same values alone, the free motion given last and not solved for", () => {
    for (const context of twins) {
      const state = opened(refreshState(before.k, before.m, { shift, most: 40 }, context));
      const given = old.vectors.subarray(0, 37 * n);
      const turned = new Float64Array(37 * n);
      turned.set(given.subarray(n));
      turned.set(given.subarray(0, n), 36 * n);
      const { values } = opened(refreshModes(state, after.k, after.m, given, 37, context));
      const alone = opened(refreshValues(state, after.k, after.m, turned, 1, context));
      expect(alone.length).toBe(37);
      const gaps = alone.map((v, i) => Math.abs(v - values[i]) / (values[i] + shift));
      expect(Math.max(...gaps)).toBeLessThan(1e-10);
    }
  });

  it("stays usable after a cancel half-way", () => {
    const [context] = twins;
    const state = opened(refreshState(before.k, before.m, { shift, most: 40 }, context!));
    const stopped = refreshModes(state, after.k, after.m, old.vectors, 24, {
      ...context!,
      cancelled: () => true,
    });
    expect(stopped).toMatchObject({ ok: false, reason: "cancelled" });
    const found = opened(refreshModes(state, after.k, after.m, old.vectors, 24, context!));
    const left = exact.values.map((v, i) => Math.abs(v - found.values[i]) / (v + shift));
    expect(Math.max(...left)).toBeLessThan(3e-4);
  });
});
