/**
 * Frequencies of slender beams with cubic (Hermite) elements: a whole chain from assembly through the sparse factor and
 * the Lanczos iteration against roots known to seven digits.
 */
import { describe, expect, it } from "vitest";
import {
  addElements,
  lowestModes,
  opened,
  quiet,
  type SparseSymmetric,
  symmetricPattern,
} from "#engine/numerics";
import { proof } from "#proofs/harness";

// Unknowns: deflection and slope at each node, (w0, s0, w1, s1) by element.
function beam(elements: number, clamped: boolean, slip: Readonly<Record<string, number>>) {
  const h = 1 / elements;
  const dofs = Array.from({ length: elements }, (_, e) =>
    Int32Array.from({ length: 4 }, (_, i) => {
      const d = 2 * e + i;
      if (!clamped) return d;
      return d < 2 || d >= 2 * elements ? -1 : d - 2;
    }),
  );
  const n = clamped ? 2 * elements - 2 : 2 * elements + 2;
  const k: SparseSymmetric = symmetricPattern(n, dofs);
  const m: SparseSymmetric = symmetricPattern(n, dofs);
  const stiffness = (slip["stiffness"] ?? 1) / h ** 3;
  const mass = ((slip["mass"] ?? 1) * h) / 420;
  const ke = [12, 6 * h, -12, 6 * h, 6 * h, 4 * h * h, -6 * h, 2 * h * h];
  ke.push(-12, -6 * h, 12, -6 * h, 6 * h, 2 * h * h, -6 * h, 4 * h * h);
  const me = [156, 22 * h, 54, -13 * h, 22 * h, 4 * h * h, 13 * h, -3 * h * h];
  me.push(54, 13 * h, 156, -22 * h, -13 * h, -3 * h * h, -22 * h, 4 * h * h);
  for (const d of dofs) {
    addElements([k], d, [Float64Array.from(ke, (v) => v * stiffness)]);
    addElements([m], d, [Float64Array.from(me, (v) => v * mass)]);
  }
  return { k, m, group: Uint32Array.from({ length: n }, (_, i) => i >> 1) };
}

function roots(elements: number, clamped: boolean, slip: Readonly<Record<string, number>> = {}): number[] {
  const { k, m, group } = beam(elements, clamped, slip);
  const rigid = clamped ? 0 : 2;
  const pairs = opened(lowestModes(k, m, { count: 5 + rigid, shift: clamped ? 0 : 200, group }, quiet));
  return Array.from(pairs.values.subarray(rigid), (v) => v ** 0.25);
}

const quoted = [4.730041, 7.853205, 10.995608, 14.137165, 17.27876];
const because = "the source gives 7 digits; 160 cubic elements leave 5e-8 of the fifth root";

proof(
  "clamped beam: beta L of five modes (roots of cosh x cos x = 1)",
  {
    source: "BEAM",
    quoted,
    absTol: 2e-6,
    because,
    mustNotice: { stiffness: 1.00001, mass: 0.99999 },
  },
  (slip) => roots(160, true, slip),
);

proof(
  "free beam, factored with a shift: the same roots, two rigid motions below them",
  {
    source: "BEAM",
    quoted,
    absTol: 2e-6,
    because,
    mustNotice: { stiffness: 1.00001, mass: 0.99999 },
  },
  (slip) => roots(160, false, slip),
);

describe("beam frequencies", () => {
  it("approach their limit with the fourth power of the element length", () => {
    const exact = roots(160, true)[4] ** 4;
    const error = (elements: number): number => roots(elements, true)[4] ** 4 - exact;
    expect(Math.log2(error(20) / error(40))).toBeGreaterThan(3.9);
    expect(Math.log2(error(20) / error(40))).toBeLessThan(4.2);
  });

  it("of a free beam begin with two rigid motions at zero", () => {
    const { k, m, group } = beam(60, false, {});
    const { values } = opened(lowestModes(k, m, { count: 4, shift: 200, group }, quiet));
    expect(Math.abs(values[0])).toBeLessThan(1e-6 * values[2]);
    expect(Math.abs(values[1])).toBeLessThan(1e-6 * values[2]);
  });
});
