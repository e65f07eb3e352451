import { describe, expect, it } from "vitest";
import { evenWeights, outerBasis, tableWeights } from "./outerBasis.ts";
import { boxAir, smallSource } from "./wholeBox.fixture.ts";

describe("outerBasis", () => {
  it("needs one row for a small source, and none for a mass that stays", () => {
    const flow = Float64Array.of(0.03, -0.02, 0.05, 0.2);
    const basis = outerBasis(smallSource(flow, boxAir), new Float64Array(4).fill(0.1), 6);
    expect(basis.rank).toBe(1);
    expect(basis.massRank).toBe(0);
    // Q' b b Q is rho/(4 pi c) flow flow' at every frequency.
    const r = boxAir.density / (4 * Math.PI * boxAir.soundSpeed);
    for (const g of [0, 5, basis.omega.length - 1]) {
      for (let i = 0; i < 4; i++)
        expect((basis.root[g] * basis.rows[i]) ** 2 / (r * flow[i] ** 2)).toBeCloseTo(1, 9);
      expect(basis.rows[4]).toBe(0);
    }
  });

  it("keeps the mass that changes, less that of the lowest frequency", () => {
    const air = smallSource(Float64Array.of(0, 0), boxAir);
    const mass = air.mass.map((_, k) => (k % 4 === 0 ? 0.02 + 0.1 * Math.floor(k / 4) : 0));
    const basis = outerBasis({ ...air, mass }, Float64Array.of(1, 1), 2);
    expect(basis.massRank).toBe(1);
    expect(Array.from(basis.mass, (m) => m * basis.massRows[0] ** 2)).toEqual(
      [0, 0.1, 0.2, 0.3, 0.4, 0.5].map((v) => expect.closeTo(v, 12)),
    );
  });
});

describe("the weights of tabled frequencies", () => {
  const table = Float64Array.of(80, 230, 380, 520, 650, 760);
  it("are exact for even polynomials, and hold the highest value beyond", () => {
    const even = (f: number) => 1 - 3e-6 * f * f + 2e-12 * f ** 4;
    for (const f of [0, 100, 400, 760]) {
      const sum = evenWeights(table, f).reduce((s, w, k) => s + w * even(table[k]), 0);
      expect(sum).toBeCloseTo(even(f), 10);
    }
    expect(Array.from(evenWeights(table, 900))).toEqual([0, 0, 0, 0, 0, 1].map((v) => expect.closeTo(v, 12)));
  });
  it("are exact for cubics between four neighbours", () => {
    const cubic = (f: number) => 2 + 0.1 * f - 3e-4 * f * f + 1e-7 * f ** 3;
    for (const f of [80, 150, 400, 700, 760]) {
      const sum = tableWeights(table, f).reduce((s, w, k) => s + w * cubic(table[k]), 0);
      expect(sum).toBeCloseTo(cubic(f), 9);
    }
  });
});
