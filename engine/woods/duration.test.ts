import { describe, expect, it } from "vitest";
import { creepRange } from "./creep.ts";
import { durationFactor, kdef, kmod, year } from "./duration.ts";
import { glueStrength } from "./glue.ts";

const open = <T>(o: { ok: true; value: T } | { ok: false; detail: string }): T => {
  if (!o.ok) throw new Error(o.detail);
  return o.value;
};

describe("time under load", () => {
  it("falls all the way from a test to fifty years, and never exceeds the short-term strength", () => {
    const factors = [1, 3600, 86400, year, 10 * year, 50 * year].map((s) => open(durationFactor(s)));
    expect(factors[0]).toBe(1);
    for (let i = 1; i < factors.length; i++) expect(factors[i]).toBeLessThan(factors[i - 1]!);
  });

  it("stays within 0.05 of EN 1995-1-1's kmod for lasting loads, which it was made from", () => {
    expect(Math.abs(open(durationFactor(50 * year)) - kmod(1, "permanent"))).toBeLessThan(0.05);
    expect(Math.abs(open(durationFactor(10 * year)) - kmod(1, "long"))).toBeLessThan(0.1);
  });

  it("is refused beyond 1 s to 60 years", () => {
    expect(durationFactor(0.5).ok).toBe(false);
    expect(durationFactor(70 * year).ok).toBe(false);
    expect(durationFactor(Number.NaN).ok).toBe(false);
  });
});

describe("creep", () => {
  it("grows with time and with damp, low below likely below high", () => {
    for (const serviceClass of [1, 2, 3] as const) {
      let before = 1;
      for (const years of [1 / 12, 1, 10, 50]) {
        const { low, likely, high } = open(creepRange(years, serviceClass));
        expect(low).toBeGreaterThan(1);
        expect(likely).toBeGreaterThan(low);
        expect(high).toBeGreaterThan(likely);
        expect(likely).toBeGreaterThan(before);
        before = likely;
      }
    }
    expect(open(creepRange(10, 2)).likely).toBeGreaterThan(open(creepRange(10, 1)).likely);
  });

  it("is known within a factor of 2 to 3 of its creep part at fifty years", () => {
    const { low, likely, high } = open(creepRange(50, 1));
    expect((likely - 1) / (low - 1)).toBeCloseTo(2.5, 9);
    expect((high - 1) / (likely - 1)).toBeCloseTo(2.5, 9);
    expect(likely - 1).toBeCloseTo(kdef(1, "solid"), 12);
  });

  it("is refused beyond a day to fifty years", () => {
    expect(creepRange(60, 1).ok).toBe(false);
    expect(creepRange(0, 1).ok).toBe(false);
  });
});

describe("glues", () => {
  it("are given as ranges in order, tension below shear, softening above a warm room", () => {
    for (const name of ["hide", "fish", "aliphatic", "pva", "epoxy"]) {
      const glue = glueStrength(name)!;
      for (const { low, likely, high } of [glue.shear, glue.tension]) {
        expect(low, name).toBeLessThan(likely);
        expect(likely, name).toBeLessThan(high);
      }
      expect(glue.tension.likely, name).toBeLessThan(glue.shear.likely);
      expect(glue.softens.from, name).toBeGreaterThan(273.15 + 35);
      expect(glue.softens.to, name).toBeGreaterThan(glue.softens.from);
    }
    expect(glueStrength("chewing gum")).toBeNull();
  });
});
