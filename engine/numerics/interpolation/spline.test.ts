import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { piecewiseLinear } from "./piecewiseLinear.ts";
import { periodicSpline, splineValue } from "./spline.ts";

const knots = [0, 0.4, 1, 1.3, 2.2, 3];

describe("periodic splines", () => {
  it("pass through their values with continuous slope and curvature, over the seam as well", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 5, maxLength: 5 }),
        (values) => {
          const s = periodicSpline(knots, values);
          knots.forEach((t, i) => {
            expect(splineValue(s, t)).toBeCloseTo(values[i % 5], 12);
            for (const d of [0, 1, 2] as const) {
              const jump = splineValue(s, t + 1e-10, d) - splineValue(s, t - 1e-10, d);
              expect(Math.abs(jump)).toBeLessThan(1e-6);
            }
          });
        },
      ),
      { seed: 4 },
    );
  });

  it("approach a sine with the fourth power of the knot spacing, its derivatives with the third and second", () => {
    const error = (n: number, d: 0 | 1 | 2): number => {
      const at = Array.from({ length: n + 1 }, (_, i) => (2 * Math.PI * i) / n);
      const s = periodicSpline(at, at.slice(0, n).map(Math.sin));
      let worst = 0;
      for (let t = -7; t < 14; t += 0.01) {
        worst = Math.max(worst, Math.abs(splineValue(s, t, d) - Math.sin(t + (d * Math.PI) / 2)));
      }
      return worst;
    };
    for (const d of [0, 1, 2] as const) {
      expect(Math.log2(error(16, d) / error(32, d))).toBeGreaterThan(3.9 - d);
    }
    expect(error(32, 0)).toBeLessThan(1e-5);
  });

  it("refuse knots that do not ascend", () => {
    expect(() => periodicSpline([0, 1, 1, 2], [1, 2, 3])).toThrow("knots must ascend");
  });
});

describe("piecewiseLinear", () => {
  it("runs straight between values and keeps the end values beyond", () => {
    const at = Float64Array.of(0, 1, 3);
    const values = Float64Array.of(2, 4, -2);
    expect([-1, 0, 0.5, 1, 2, 3, 9].map((t) => piecewiseLinear(at, values, t))).toEqual([
      2, 2, 3, 4, 1, -2, -2,
    ]);
  });
});
