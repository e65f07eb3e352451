import { describe, expect, it } from "vitest";
import {
  addElement,
  type SparseSymmetric,
  symmetricCombination,
  symmetricMultiply,
  symmetricPattern,
} from "./symmetric.ts";

function denseOf(a: SparseSymmetric): number[][] {
  const rows = Array.from({ length: a.n }, () => new Array<number>(a.n).fill(0));
  for (let j = 0; j < a.n; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      rows[a.rowIndex[p]][j] = a.values[p];
      rows[j][a.rowIndex[p]] = a.values[p];
    }
  }
  return rows;
}

describe("sparse symmetric matrices", () => {
  it("add up element matrices with dofs in any order, fixed ones left out", () => {
    const elements = [Int32Array.of(3, 0, -1), Int32Array.of(1, 3, 2)];
    const a = symmetricPattern(4, elements);
    addElement(a, elements[0], Float64Array.of(10, 2, 9, 2, 30, 9, 9, 9, 9));
    addElement(a, elements[1], Float64Array.of(1, 4, 5, 4, 2, 6, 5, 6, 3));
    expect(denseOf(a)).toEqual([
      [30, 0, 0, 2],
      [0, 1, 5, 4],
      [0, 5, 3, 6],
      [2, 4, 6, 12],
    ]);
    for (let j = 0; j < 4; j++) {
      const rows = a.rowIndex.subarray(a.colStart[j], a.colStart[j + 1]);
      expect(rows[0]).toBe(j);
      expect([...rows]).toEqual([...rows].sort((p, q) => p - q));
    }
  });

  it("condense an element that names one degree of freedom twice", () => {
    const dofs = Int32Array.of(0, 1, 0);
    const a = symmetricPattern(2, [dofs]);
    addElement(a, dofs, Float64Array.of(1, 2, 3, 2, 4, 5, 3, 5, 6));
    expect(denseOf(a)).toEqual([
      [1 + 2 * 3 + 6, 2 + 5],
      [2 + 5, 4],
    ]);
  });

  it("multiply several columns at once", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 1), Int32Array.of(1, 2)]);
    addElement(a, Int32Array.of(0, 1), Float64Array.of(2, -1, -1, 5));
    addElement(a, Int32Array.of(1, 2), Float64Array.of(1, 3, 3, 7));
    expect([...symmetricMultiply(a, Float64Array.of(1, 0, 0, 1, 2, 3), 2)]).toEqual([2, -1, 0, 0, 20, 27]);
  });

  it("combine matrices of different patterns", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 2)]);
    const b = symmetricPattern(3, [Int32Array.of(0, 1)]);
    addElement(a, Int32Array.of(0, 2), Float64Array.of(1, 2, 2, 3));
    addElement(b, Int32Array.of(0, 1), Float64Array.of(10, 20, 20, 30));
    expect(denseOf(symmetricCombination(a, 2, b, -1))).toEqual([
      [-8, -20, 4],
      [-20, -30, 0],
      [4, 0, 6],
    ]);
  });

  it("refuse an entry outside the pattern", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 1)]);
    expect(() => addElement(a, Int32Array.of(0, 2), new Float64Array(4))).toThrow("not in the pattern");
  });
});
