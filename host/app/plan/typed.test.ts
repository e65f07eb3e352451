import { describe, expect, it } from "vitest";
import { parseQuantity } from "#engine/units";
import { readTyped, typedAngle, typedExactly, typedLength } from "./typed.ts";

describe("typed lengths", () => {
  it("are millimetres with one decimal, or inches on the marks of a rule", () => {
    expect(typedLength(0.2495, "metric")).toBe("249.5 mm");
    expect(typedLength(0.004, "metric")).toBe("4 mm");
    expect(typedLength(-0.0405, "metric")).toBe("-40.5 mm");
    expect(typedLength(0.0254 * 5.21875, "inch")).toBe("5 7/32 in");
    expect(typedLength(0.0254 * 0.5, "inch")).toBe("1/2 in");
    expect(typedLength(0.0254 * -3, "inch")).toBe("-3 in");
    expect(typedLength(0.0254 * 5.207, "inch")).toBe("5.207 in");
  });

  it("are read again as what they were, to the last mark", () => {
    for (const units of ["metric", "inch"] as const)
      for (const value of [0.2495, 0.004, -0.0405, 0.0254 * 5.21875, -0.0254 / 32, 0]) {
        const parsed = parseQuantity(typedLength(value, units), "length");
        expect(parsed.ok && Math.abs(parsed.value - value)).toBeLessThan(
          units === "metric" ? 5.1e-5 : 1.3e-5,
        );
      }
    expect(typedExactly(0.123456)).toBe("123.46 mm");
    expect(typedAngle(Math.PI / 6)).toBe("30 deg");
  });

  it("take a bare number in the maker's unit, any unit as it stands, and refuse in words", () => {
    expect(readTyped("12", "length", "metric")).toEqual({ ok: true, value: expect.closeTo(0.012, 12) });
    expect(readTyped("12", "length", "inch")).toEqual({ ok: true, value: expect.closeTo(0.3048, 12) });
    expect(readTyped("1/2 in", "length", "metric")).toEqual({ ok: true, value: expect.closeTo(0.0127, 12) });
    expect(readTyped("30", "angle", "metric")).toEqual({ ok: true, value: expect.closeTo(Math.PI / 6, 12) });
    const refused = readTyped("12 kg", "length", "metric");
    expect(refused.ok).toBe(false);
  });
});
