import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { piecewiseLinear } from "./piecewiseLinear.ts";
import { type CubicSpline, clampedSpline, naturalSpline, periodicSpline, splineValue } from "./spline.ts";

const knots = [0, 0.4, 1, 1.3, 2.2, 3];

/** Largest jump of the value and the first two derivatives across the inner knots. */
function worstJump(s: CubicSpline): number {
  let worst = 0;
  for (let i = 1; i + 1 < s.knots.length; i++) {
    for (const d of [0, 1, 2] as const) {
      const t = s.knots[i];
      worst = Math.max(worst, Math.abs(splineValue(s, t - 1e-10, d) - splineValue(s, t + 1e-10, d)));
    }
  }
  return worst;
}

describe("cubic splines", () => {
  it("pass through their values with continuous curvature, whatever the kind", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 6, maxLength: 6 }),
        (values) => {
          const closed = [...values.slice(0, 5), values[0]];
          for (const [s, wanted] of [
            [naturalSpline(knots, values), values],
            [clampedSpline(knots, values, 2, -1), values],
            [periodicSpline(knots, closed), closed],
          ] as const) {
            wanted.forEach((v, i) => {
              expect(splineValue(s, knots[i])).toBeCloseTo(v, 12);
            });
            expect(worstJump(s)).toBeLessThan(1e-6);
          }
        },
      ),
      { seed: 4 },
    );
  });

  it("end without bending when natural and at the given slopes when clamped", () => {
    const values = [1, 3, -2, 0, 4, 1];
    const natural = naturalSpline(knots, values);
    expect(splineValue(natural, 0, 2)).toBe(0);
    expect(splineValue(natural, 3, 2)).toBe(0);
    const clamped = clampedSpline(knots, values, 2.5, -7);
    expect(splineValue(clamped, 0, 1)).toBeCloseTo(2.5, 12);
    expect(splineValue(clamped, 3, 1)).toBeCloseTo(-7, 12);
  });

  it("reproduce a cubic and all its derivatives when clamped at its slopes", () => {
    const f = (t: number): number => t ** 3 - 2 * t ** 2 + t - 4;
    const s = clampedSpline(knots, knots.map(f), 1, 27 - 12 + 1);
    for (const t of [0, 0.123, 0.4, 1.1, 2.9, 3]) {
      expect(splineValue(s, t)).toBeCloseTo(f(t), 12);
      expect(splineValue(s, t, 1)).toBeCloseTo(3 * t * t - 4 * t + 1, 11);
      expect(splineValue(s, t, 2)).toBeCloseTo(6 * t - 4, 11);
      expect(splineValue(s, t, 3)).toBeCloseTo(6, 10);
    }
  });

  it("approach a sine with the fourth power of the knot spacing when periodic, and repeat it", () => {
    const error = (n: number): number => {
      const at = Array.from({ length: n + 1 }, (_, i) => (2 * Math.PI * i) / n);
      const s = periodicSpline(at, at.slice(0, n).map(Math.sin));
      let worst = 0;
      for (let t = -7; t < 14; t += 0.01) worst = Math.max(worst, Math.abs(splineValue(s, t) - Math.sin(t)));
      return worst;
    };
    expect(Math.log2(error(16) / error(32))).toBeGreaterThan(3.9);
    expect(error(32)).toBeLessThan(1e-5);
  });

  it("run on straight beyond open ends", () => {
    const s = naturalSpline(knots, [1, 3, -2, 0, 4, 1]);
    expect(splineValue(s, 5)).toBeCloseTo(1 + 2 * splineValue(s, 3, 1), 12);
    expect(splineValue(s, -1, 1)).toBe(splineValue(s, 0, 1));
    expect(splineValue(s, -1, 2)).toBe(0);
  });

  it("refuse knots that do not ascend", () => {
    expect(() => naturalSpline([0, 1, 1], [1, 2, 3])).toThrow("knots must ascend");
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
