import { describe, expect, it } from "vitest";
import {
  addElements,
  factorize,
  type KernelSource,
  opened,
  quiet,
  seededRandom,
  solveFactored,
  symmetricPattern,
  typescriptKernels,
} from "#engine/numerics";
import { wasmKernels } from "./index.ts";

/** A strip of nodes with `dofs` unknowns each, all coupled to their neighbours; indefinite if shifted. */
function system(seed: number, nodes: number, dofs: number, shift: number) {
  const random = seededRandom(seed);
  const width = 7;
  const pairs: Int32Array[] = [];
  for (let v = 0; v < nodes; v++)
    for (const u of [v + 1, v + width, v + width + 1])
      if (u < nodes)
        pairs.push(
          Int32Array.from({ length: 2 * dofs }, (_, i) => (i < dofs ? v * dofs + i : u * dofs + i - dofs)),
        );
  const a = symmetricPattern(nodes * dofs, pairs);
  for (const pair of pairs) {
    const m = pair.length;
    const b = Float64Array.from({ length: m * m }, () => random() - 0.5);
    const element = new Float64Array(m * m);
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++)
        for (let k = 0; k < m; k++) element[i * m + j] += b[i * m + k] * b[j * m + k];
    addElements([a], pair, [element]);
  }
  for (let j = 0; j < a.n; j++) a.values[a.colStart[j]] += 0.2 - shift;
  return { a, group: Uint32Array.from({ length: a.n }, (_, i) => Math.floor(i / dofs)) };
}

function solvedBy(kernels: KernelSource, shift: number, dofs: number) {
  const { a, group } = system(3, 190, dofs, shift);
  const factor = opened(factorize(a, { group, indefinite: shift > 0 }, { ...quiet, kernels }));
  const b = Float64Array.from({ length: 6 * a.n }, (_, i) => Math.sin(1 + i));
  return { ran: factor.ran, negatives: factor.negatives, x: solveFactored(factor, b, 6) };
}

describe("the two twins of the sparse solver", () => {
  it("give the same factor, inertia and solutions, and say which of them ran", () => {
    for (const dofs of [1, 3, 6]) {
      for (const shift of [0, 1.7]) {
        const fast = solvedBy(wasmKernels, shift, dofs);
        const slow = solvedBy(typescriptKernels, shift, dofs);
        expect([fast.ran, slow.ran]).toEqual(["wasm", "typescript"]);
        expect(fast.negatives).toBe(slow.negatives);
        expect(fast.negatives > 0).toBe(shift > 0);
        const scale = Math.max(...slow.x.map(Math.abs));
        expect(Math.max(...fast.x.map((v, i) => Math.abs(v - slow.x[i])))).toBeLessThan(1e-9 * scale);
      }
    }
  });
});
