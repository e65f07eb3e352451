import { describe, expect, it } from "vitest";
import { gaussLegendre } from "./gaussLegendre.ts";
import { triangleRule } from "./triangleRule.ts";

describe("gaussLegendre", () => {
  it("is exact to degree 2n - 1 and not beyond", () => {
    for (const n of [1, 2, 3, 7, 20, 64]) {
      const { points, weights } = gaussLegendre(n);
      const integral = (p: number): number => points.reduce((sum, x, i) => sum + weights[i] * x ** p, 0);
      for (let p = 0; p < 2 * n; p++) expect(integral(p)).toBeCloseTo(p % 2 === 0 ? 2 / (p + 1) : 0, 13);
      if (n < 8) expect(Math.abs(integral(2 * n) - 2 / (2 * n + 1))).toBeGreaterThan(1e-5);
      expect([...points]).toEqual([...points].sort((a, b) => a - b));
    }
  });
});

describe("triangleRule", () => {
  const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

  it("is exact for every monomial up to its order, for orders 1 to 12", () => {
    for (let order = 1; order <= 12; order++) {
      const { points, weights } = triangleRule(order);
      for (let a = 0; a <= order; a++) {
        for (let b = 0; a + b <= order; b++) {
          let sum = 0;
          weights.forEach((w, i) => {
            sum += w * points[3 * i] ** a * points[3 * i + 1] ** b;
          });
          // Closed form of the mean of L1^a L2^b over a triangle: 2 a! b! / (a + b + 2)!
          expect(sum).toBeCloseTo((2 * factorial(a) * factorial(b)) / factorial(a + b + 2), 13);
        }
      }
    }
  });

  it("has its points inside, their three coordinates summing to one, and positive weights", () => {
    for (let order = 1; order <= 9; order++) {
      const { points, weights } = triangleRule(order);
      expect(Math.min(...points, ...weights)).toBeGreaterThan(0);
      for (let i = 0; i < weights.length; i++) {
        expect(points[3 * i] + points[3 * i + 1] + points[3 * i + 2]).toBeCloseTo(1, 14);
      }
    }
    expect([1, 2, 3, 4, 5, 6].map((o) => triangleRule(o).weights.length)).toEqual([1, 3, 6, 6, 7, 12]);
  });
});
