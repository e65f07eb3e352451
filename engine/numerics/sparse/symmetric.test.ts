import { describe, expect, it } from "vitest";
import {
  addElements,
  quadraticForms,
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
    addElements([a], elements[0], [Float64Array.of(10, 2, 9, 2, 30, 9, 9, 9, 9)]);
    addElements([a], elements[1], [Float64Array.of(1, 4, 5, 4, 2, 6, 5, 6, 3)]);
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
    addElements([a], dofs, [Float64Array.of(1, 2, 3, 2, 4, 5, 3, 5, 6)]);
    expect(denseOf(a)).toEqual([
      [1 + 2 * 3 + 6, 2 + 5],
      [2 + 5, 4],
    ]);
  });

  it("multiply several columns at once", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 1), Int32Array.of(1, 2)]);
    addElements([a], Int32Array.of(0, 1), [Float64Array.of(2, -1, -1, 5)]);
    addElements([a], Int32Array.of(1, 2), [Float64Array.of(1, 3, 3, 7)]);
    expect([...symmetricMultiply(a, Float64Array.of(1, 0, 0, 1, 2, 3), 2)]).toEqual([2, -1, 0, 0, 20, 27]);
  });

  it("give the quadratic form of each vector, whatever their number", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 1), Int32Array.of(1, 2)]);
    addElements([a], Int32Array.of(0, 1), [Float64Array.of(2, -1, -1, 5)]);
    addElements([a], Int32Array.of(1, 2), [Float64Array.of(1, 3, 3, 7)]);
    const x = Float64Array.from({ length: 15 }, (_, k) => Math.sin(1 + k));
    const wanted = [0, 1, 2, 3, 4].map((c) => {
      const v = x.subarray(3 * c, 3 * c + 3);
      return symmetricMultiply(a, v).reduce((sum, w, i) => sum + w * v[i], 0);
    });
    quadraticForms(a, x, 5).forEach((value, c) => {
      expect(value).toBeCloseTo(wanted[c], 12);
    });
  });

  it("add several element matrices at once to matrices of one pattern, and to no others", () => {
    const a = symmetricPattern(2, [Int32Array.of(1, 0)]);
    const b = { ...a, values: a.values.slice() };
    addElements([a, b], Int32Array.of(1, 0), [Float64Array.of(1, 2, 2, 3), Float64Array.of(4, 5, 5, 6)]);
    expect([denseOf(a), denseOf(b)]).toEqual([
      [
        [3, 2],
        [2, 1],
      ],
      [
        [6, 5],
        [5, 4],
      ],
    ]);
    const other = symmetricPattern(2, []);
    const ke = new Float64Array(4);
    expect(() => addElements([a, other], Int32Array.of(1, 0), [ke, ke])).toThrow("different patterns");
  });

  it("combine matrices of different patterns", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 2)]);
    const b = symmetricPattern(3, [Int32Array.of(0, 1)]);
    addElements([a], Int32Array.of(0, 2), [Float64Array.of(1, 2, 2, 3)]);
    addElements([b], Int32Array.of(0, 1), [Float64Array.of(10, 20, 20, 30)]);
    expect(denseOf(symmetricCombination(a, 2, b, -1))).toEqual([
      [-8, -20, 4],
      [-20, -30, 0],
      [4, 0, 6],
    ]);
  });

  it("refuse an entry outside the pattern", () => {
    const a = symmetricPattern(3, [Int32Array.of(0, 1)]);
    expect(() => addElements([a], Int32Array.of(0, 2), [new Float64Array(4)])).toThrow("not in the pattern");
  });
});
