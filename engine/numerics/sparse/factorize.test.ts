import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import { analysePattern, factorize } from "./factorize.ts";
import { solveFactored } from "./solveFactored.ts";
import { addElements, type SparseSymmetric, symmetricMultiply, symmetricPattern } from "./symmetric.ts";

/** A random mesh-like positive definite matrix: `nodes` nodes of `dofs` unknowns, triangles between random nodes. */
function randomSystem(seed: number, nodes: number, dofs: number, elements: number) {
  const random = seededRandom(seed);
  const group = Uint32Array.from({ length: nodes * dofs }, (_, i) => Math.floor(i / dofs));
  const list: Int32Array[] = [];
  for (let e = 0; e < elements; e++) {
    const first = Math.floor(random() * nodes);
    const corners = new Set([first, Math.floor(random() * nodes), (first + 1) % nodes]);
    list.push(
      Int32Array.from([...corners].flatMap((v) => Array.from({ length: dofs }, (_, d) => v * dofs + d))),
    );
  }
  const a = symmetricPattern(nodes * dofs, list);
  for (const dofsOf of list) {
    const m = dofsOf.length;
    const b = Float64Array.from({ length: m * m }, () => random() - 0.5);
    const ke = new Float64Array(m * m);
    for (let i = 0; i < m; i++)
      for (let j = 0; j < m; j++) for (let k = 0; k < m; k++) ke[i * m + j] += b[i * m + k] * b[j * m + k];
    addElements([a], dofsOf, [ke]);
  }
  for (let j = 0; j < a.n; j++) addElements([a], Int32Array.of(j), [Float64Array.of(0.1)]);
  return { a, group };
}

function worstResidual(a: SparseSymmetric, x: Float64Array, b: Float64Array, columns: number): number {
  const ax = symmetricMultiply(a, x, columns);
  return ax.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b[i])), 0);
}

describe("factorize", () => {
  it("solves random meshes of any block size, alone and by node groups, for any number of right-hand sides", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 0, max: 80 }),
        fc.integer({ min: 1, max: 6 }),
        fc.boolean(),
        (seed, nodes, dofs, elements, columns, grouped) => {
          const { a, group } = randomSystem(seed, nodes, dofs, elements);
          const factor = opened(factorize(a, grouped ? { group } : {}));
          const random = seededRandom(seed + 1);
          const b = Float64Array.from({ length: a.n * columns }, () => random() - 0.5);
          const x = solveFactored(factor, b, columns);
          expect(worstResidual(a, x, b, columns)).toBeLessThan(1e-11);
        },
      ),
      { numRuns: 150, seed: 2 },
    );
  });

  it("takes every degree of freedom into the elimination order once", () => {
    const { a, group } = randomSystem(5, 60, 6, 90);
    const partition = analysePattern(a, group);
    expect([...partition.dofAt].filter((d) => d >= 0).sort((p, q) => p - q)).toEqual(
      Array.from({ length: a.n }, (_, i) => i),
    );
    partition.parent.forEach((p, s) => {
      expect(p === -1 || p > s).toBe(true);
    });
  });

  it("uses an analysis again for other values on the same pattern", () => {
    const { a, group } = randomSystem(8, 50, 3, 70);
    const analysis = analysePattern(a, group);
    const doubled = { ...a, values: a.values.map((v) => 2 * v) };
    const b = Float64Array.from({ length: a.n }, (_, i) => Math.cos(i));
    const x = solveFactored(opened(factorize(doubled, { analysis })), b);
    const y = solveFactored(opened(factorize(a)), b);
    expect(Math.max(...x.map((v, i) => Math.abs(2 * v - y[i])))).toBeLessThan(
      1e-9 * Math.max(...y.map(Math.abs)),
    );
  });

  it("names the degree of freedom that has no stiffness", () => {
    const { a, group } = randomSystem(3, 30, 4, 60);
    const loose = 57;
    const values = a.values.slice();
    for (let j = 0; j < a.n; j++)
      for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++)
        if (j === loose || a.rowIndex[p] === loose) values[p] = 0;
    const outcome = factorize({ ...a, values }, { group });
    expect(outcome).toMatchObject({ ok: false, reason: "not-positive-definite" });
    expect(outcome.ok ? "" : outcome.detail).toContain("degree of freedom 57 ");
  });

  it("refuses a free chain of springs, whose last pivot is rounding noise", () => {
    const n = 200;
    const links = Array.from({ length: n - 1 }, (_, i) => Int32Array.of(i, i + 1));
    const a = symmetricPattern(n, links);
    links.forEach((dofs, i) => {
      const k = 1 + 0.37 * Math.sin(i);
      addElements([a], dofs, [Float64Array.of(k, -k, -k, k)]);
    });
    expect(factorize(a)).toMatchObject({ ok: false, reason: "not-positive-definite" });
  });
});
