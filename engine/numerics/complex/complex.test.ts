import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Complex, complexDivide, complexMultiply } from "./complex.ts";

const part = fc.double({ min: -1e3, max: 1e3, noNaN: true });
const any = fc.record({ re: part, im: part });
const gap = (a: Complex, b: Complex): number =>
  Math.hypot(a.re - b.re, a.im - b.im) / (1 + Math.hypot(b.re, b.im));

describe("complex numbers", () => {
  it("obey the field laws", () => {
    fc.assert(
      fc.property(any, any, any, (a, b, c) => {
        const both = { re: b.re + c.re, im: b.im + c.im };
        const ab = complexMultiply(a, b);
        const ac = complexMultiply(a, c);
        expect(gap(complexMultiply(a, both), { re: ab.re + ac.re, im: ab.im + ac.im })).toBeLessThan(1e-9);
        if (Math.hypot(b.re, b.im) > 1e-3) {
          expect(gap(complexMultiply(complexDivide(a, b), b), a)).toBeLessThan(1e-12);
        }
      }),
      { seed: 8 },
    );
  });

  it("divide without overflow", () => {
    const huge = { re: 1e300, im: 1e300 };
    expect(gap(complexDivide(huge, huge), { re: 1, im: 0 })).toBeLessThan(1e-15);
  });

  it("square i to minus one", () => {
    expect(complexMultiply({ re: 0, im: 1 }, { re: 0, im: 1 })).toEqual({ re: -1, im: 0 });
  });
});
