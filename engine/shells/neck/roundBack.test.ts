import { expect, it } from "vitest";
import { backDepth, roundBackLayer } from "./roundBack.ts";

it("is as deep as its curve and weighs what slices of it weigh, for V, C and U", () => {
  for (const exponent of [1.6, 2, 2.5, 3]) {
    const back = { half: 0.025, under: 0.016, exponent };
    const sum = [0, 0, 0, 0];
    const n = 20000;
    for (let k = 0; k < n; k++) {
      const z = (back.under * (k + 0.5)) / n;
      const y = back.half * (1 - (z / back.under) ** exponent) ** (1 / exponent);
      if (k % 500 === 0) expect(backDepth(back, y)).toBeCloseTo(z, 9);
      const slice = (2 * y * back.under) / n;
      for (const [q, f] of [1, z, z * z, (y * y) / 3].entries()) sum[q]! += slice * f;
    }
    const [area, first, second, sideways] = sum as [number, number, number, number];
    const layer = roundBackLayer(10e9, 600, back, 0.005);
    expect(layer.EA / (10e9 * area)).toBeCloseTo(1, 4);
    expect(layer.massPerLength / (600 * area)).toBeCloseTo(1, 4);
    expect((layer.depth - 0.005) / (first / area)).toBeCloseTo(1, 4);
    expect(layer.EIUpright / (10e9 * (second - first ** 2 / area))).toBeCloseTo(1, 4);
    expect(layer.EISideways / (10e9 * sideways)).toBeCloseTo(1, 4);
  }
});

it("has no depth beyond its edge", () => {
  expect(backDepth({ half: 0.02, under: 0.015, exponent: 2 }, -0.021)).toBe(0);
  expect(backDepth({ half: 0.02, under: 0.015, exponent: 2 }, 0)).toBe(0.015);
});
