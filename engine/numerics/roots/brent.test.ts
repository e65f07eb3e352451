import { describe, expect, it } from "vitest";
import { opened } from "../outcome.ts";
import { brent } from "./brent.ts";

describe("brent", () => {
  it("finds roots of smooth, flat, steep and stepped functions", () => {
    expect(opened(brent((x) => x * x - 2, 0, 3, 1e-14))).toBeCloseTo(Math.SQRT2, 13);
    expect(Math.abs(opened(brent((x) => x ** 9, -1, 1.3, 1e-6)))).toBeLessThan(1e-6);
    expect(opened(brent((x) => Math.tanh(1e6 * (x - 0.3)), 0, 1, 1e-12))).toBeCloseTo(0.3, 11);
    expect(opened(brent((x) => (x < 0.7 ? -1 : 1), 0, 1, 1e-12))).toBeCloseTo(0.7, 11);
    expect(opened(brent((x) => Math.exp(x) - 1e-300, -1000, 0, 1e-9))).toBeCloseTo(Math.log(1e-300), 8);
  });

  it("takes few steps on a smooth function", () => {
    let calls = 0;
    opened(
      brent(
        (x) => {
          calls++;
          return Math.cos(x) - x;
        },
        0,
        1,
        1e-15,
      ),
    );
    expect(calls).toBeLessThan(12);
  });

  it("says when the ends have one sign, and when the function breaks down", () => {
    expect(brent((x) => x * x + 1, -1, 1, 1e-9)).toMatchObject({ ok: false, reason: "not-bracketed" });
    const broken = brent((x) => (Math.abs(x) === 1 ? x : Number.NaN), -1, 1, 1e-9);
    expect(broken).toMatchObject({ ok: false, reason: "not-converged" });
  });
});
