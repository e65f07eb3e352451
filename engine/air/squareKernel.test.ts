import { describe, expect, it } from "vitest";
import { squareKernel } from "./squareKernel.ts";

describe("squareKernel", () => {
  const kernel = squareKernel(1, 40, 40);

  it("averages 1/r of a square with itself to 2.9732 over its side", () => {
    expect(kernel[0]).toBeCloseTo(4 * Math.log(1 + Math.SQRT2) + (4 * (1 - Math.SQRT2)) / 3, 12);
  });

  it("meets the average over many points for squares that touch at a corner, and apart", () => {
    const n = 24;
    for (const [i, j, digits] of [
      [1, 1, 3],
      [2, 5, 5],
      [29, 8, 6],
    ]) {
      let sum = 0;
      for (let a = 0; a < n; a++) {
        for (let b = 0; b < n; b++) {
          // The shift of two evenly filled intervals is a triangle of weights.
          for (let c = 1 - n; c < n; c++) {
            const weight = n - Math.abs(c);
            sum += weight / Math.hypot(i + c / n, j + (a - b) / n) / n ** 4;
          }
        }
      }
      expect(kernel[j * 40 + i]).toBeCloseTo(sum, digits);
    }
  });

  it("joins the near and the far form without a step", () => {
    const near = kernel[30];
    const far = kernel[31];
    expect(near / (1 / 30 + 1 / (12 * 30 ** 3))).toBeCloseTo(1, 7);
    expect(far).toBeLessThan(near);
  });

  it("scales as one over the side", () => {
    expect(squareKernel(0.01, 3, 3)[4]).toBeCloseTo(100 * kernel[41], 9);
  });
});
