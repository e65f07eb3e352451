import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Complex,
  complex,
  complexAbs,
  complexAdd,
  complexDivide,
  complexExp,
  complexMultiply,
  complexScale,
  complexSqrt,
  complexSubtract,
} from "./complex.ts";

const part = fc.double({ min: -1e3, max: 1e3, noNaN: true });
const any = fc.record({ re: part, im: part });
const gap = (a: Complex, b: Complex): number => complexAbs(complexSubtract(a, b)) / (1 + complexAbs(b));

describe("complex numbers", () => {
  it("obey the field laws", () => {
    fc.assert(
      fc.property(any, any, any, (a, b, c) => {
        const left = complexMultiply(a, complexAdd(b, c));
        expect(gap(left, complexAdd(complexMultiply(a, b), complexMultiply(a, c)))).toBeLessThan(1e-9);
        if (complexAbs(b) > 1e-3) expect(gap(complexMultiply(complexDivide(a, b), b), a)).toBeLessThan(1e-12);
        const root = complexSqrt(a);
        expect(gap(complexMultiply(root, root), a)).toBeLessThan(1e-12);
        expect(root.re).toBeGreaterThanOrEqual(0);
      }),
      { seed: 8 },
    );
  });

  it("divide without overflow and take the root above the cut", () => {
    const huge = complex(1e300, 1e300);
    expect(gap(complexDivide(huge, huge), complex(1))).toBeLessThan(1e-15);
    expect(complexSqrt(complex(-4, 0))).toEqual(complex(0, 2));
    expect(complexSqrt(complex(0))).toEqual(complex(0));
  });

  it("satisfy Euler's identity", () => {
    expect(gap(complexExp(complexScale(complex(0, 1), Math.PI)), complex(-1))).toBeLessThan(1e-15);
  });
});
