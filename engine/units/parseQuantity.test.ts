import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatQuantity, inUnit } from "./formatQuantity.ts";
import { parseQuantity } from "./parseQuantity.ts";
import { kindWords, type QuantityKind, unitsBySymbol } from "./unitTable.ts";

/** Text, kind, SI value. Factors: the inch is 25.4 mm, the pound 0.45359237 kg (1959 agreement), g 9.80665 m/s2. */
const good: readonly (readonly [string, QuantityKind, number])[] = [
  ["25 1/2 in", "length", 0.6477],
  ["25-1/2 in", "length", 0.6477],
  ["25.5 inches", "length", 0.6477],
  ['25 1/2"', "length", 0.6477],
  ["5/16 in", "length", 0.0079375],
  ["0.012 in", "length", 0.0003048],
  ["12 thou", "length", 0.0003048],
  ["647.7 mm", "length", 0.6477],
  ["647.7mm", "length", 0.6477],
  ["  647.7   mm ", "length", 0.6477],
  ["-2 mm", "length", -0.002],
  ["−2 mm", "length", -0.002],
  ["64.77 cm", "length", 0.6477],
  ["2 ft", "length", 0.6096],
  ["11.2 GPa", "stress", 11.2e9],
  ["1.6 Mpsi", "stress", 1.6e6 * 6894.757293168],
  ["1.12e10 Pa", "stress", 1.12e10],
  ["0.41 g/cm3", "density", 410],
  ["25.6 lb/ft3", "density", 410.07],
  ["18 lbf", "force", 80.068],
  ["75 kgf", "force", 735.49875],
  ["6.5 lb", "mass", 2.94835],
  ["28 g", "mass", 0.028],
  ["1 1/2 oz", "mass", 0.0425243],
  ["45 %RH", "humidity", 0.45],
  ["45 % RH", "humidity", 0.45],
  ["12 deg", "angle", 0.20943951],
  ["12°", "angle", 0.20943951],
  ["21 C", "temperature", 294.15],
  ["-5 C", "temperature", 268.15],
  ["70 F", "temperature", 294.2611],
  ["12 %", "ratio", 0.12],
  ["20 h", "duration", 72_000],
  ["6.2 g/m", "linearDensity", 0.0062],
  ["0.00004 lb/in", "linearDensity", 0.00071432],
  ["120 g/m2", "massPerArea", 0.12],
  ["4.2 N/mm", "springRate", 4200],
  ["14.2 L", "volume", 0.0142],
  ["98 Hz", "frequency", 98],
];

const bad: readonly (readonly [string, QuantityKind, string, RegExp])[] = [
  ["25-6", "length", "doubtful", /range/],
  ["25-6 in", "length", "doubtful", /range/],
  ["25,6", "length", "doubtful", /comma/],
  ["25,6 mm", "length", "doubtful", /comma/],
  ["1.234,5 mm", "length", "doubtful", /comma/],
  ["1,234.5 mm", "length", "doubtful", /comma/],
  [".095", "length", "doubtful", /zero before it, and the unit/],
  [".095 in", "length", "doubtful", /zero before it/],
  ["5. mm", "length", "doubtful", /ends with a point/],
  ["1 200 kg/m3", "density", "doubtful", /grouped/],
  ["1'200 kg/m3", "density", "doubtful", /grouped/],
  ["25 3/2 in", "length", "doubtful", /fraction/],
  ["3/0 in", "length", "doubtful", /fraction bar/],
  ["25", "length", "bare", /no unit: a length/],
  ["25 1/2", "length", "bare", /no unit/],
  ["12 kg", "length", "dimension", /a mass, but a length/],
  ["12 mm", "mass", "dimension", /a length, but a mass/],
  ["45 %", "humidity", "dimension", /a percentage, but a relative humidity/],
  ["11.2 gpa", "stress", "unknown-unit", /did you mean "GPa"/],
  ["11 furlongs", "length", "unknown-unit", /not known/],
  ["0x10 mm", "length", "unknown-unit", /not known/],
  ["NaN mm", "length", "not-a-number", /not a number/],
  ["NaN", "length", "not-a-number", /not a number/],
  ["Infinity mm", "length", "not-a-number", /not a number/],
  ["-inf mm", "length", "not-a-number", /not a number/],
  ["1e999 mm", "length", "out-of-range", /beyond anything/],
  ["1e-999 mm", "length", "out-of-range", /beyond anything/],
  ["1e30 mm", "length", "out-of-range", /beyond anything/],
  ["-300 C", "temperature", "out-of-range", /absolute zero/],
  ["mm", "length", "not-a-number", /start with a number/],
  ["", "length", "empty", /Nothing/],
  ["   ", "length", "empty", /Nothing/],
  ["two mm", "length", "not-a-number", /start with a number/],
  ["--2 mm", "length", "not-a-number", /not a number/],
];

describe("parseQuantity", () => {
  it.each(good)("reads %j as %s", (text, kind, value) => {
    const parsed = parseQuantity(text, kind);
    expect(parsed).toMatchObject({ ok: true });
    expect(parsed.ok && Math.abs(parsed.value / value - 1)).toBeLessThan(2e-5);
  });

  it.each(bad)("refuses %j as %s: %s", (text, kind, problem, message) => {
    const parsed = parseQuantity(text, kind);
    expect(parsed).toMatchObject({ ok: false, problem });
    if (parsed.ok) return;
    expect(parsed.message).toMatch(message);
    expect(parsed.message.length).toBeLessThan(250);
    expect(parsed.allowed).toContain(kindWords[kind].words);
  });

  it("refuses a text of a hundred thousand digits shortly", () => {
    const parsed = parseQuantity(`${"9".repeat(1e5)} mm`, "length");
    expect(parsed).toMatchObject({ ok: false, problem: "not-a-number" });
    if (!parsed.ok) expect(parsed.message.length).toBeLessThan(150);
  });

  it("gives examples that can themselves be read", () => {
    for (const [text, kind] of bad) {
      const parsed = parseQuantity(text, kind);
      if (!parsed.ok) expect(parseQuantity(parsed.example, kind)).toMatchObject({ ok: true });
    }
    for (const kind of Object.keys(kindWords) as QuantityKind[]) {
      expect(parseQuantity(kindWords[kind].example, kind)).toMatchObject({ ok: true });
    }
  });

  it("never throws, and never returns a number that is not finite, whatever is typed", () => {
    const letters = [..."0123456789.,/-+ eEmiknNgPaG%RHC°\"'_∞½x"];
    const soup = fc.array(fc.constantFrom(...letters), { maxLength: 30 }).map((parts) => parts.join(""));
    const kinds = fc.constantFrom(...(Object.keys(kindWords) as QuantityKind[]));
    fc.assert(
      fc.property(fc.oneof(soup, fc.string({ unit: "binary" })), kinds, (text, kind) => {
        const parsed = parseQuantity(text, kind);
        return !parsed.ok || Number.isFinite(parsed.value);
      }),
      { seed: 20261125, numRuns: 20_000 },
    );
  });

  it("reads back what it prints, in every unit", () => {
    const symbols = fc.constantFrom(...unitsBySymbol.keys());
    fc.assert(
      fc.property(
        symbols,
        fc.integer({ min: 1, max: 99_999 }),
        fc.integer({ min: 0, max: 3 }),
        (symbol, n, decimals) => {
          const unit = unitsBySymbol.get(symbol)!;
          const typed = n / 10 ** decimals;
          const text = `${typed} ${symbol}`;
          const parsed = parseQuantity(text, unit.kind);
          if (!parsed.ok) return false;
          const printed = formatQuantity(parsed.value, symbol, decimals);
          return printed === `${typed.toFixed(decimals)} ${symbol}` && parsed.unit === symbol;
        },
      ),
      { seed: 7, numRuns: 5000 },
    );
  });

  it("turns SI back into the unit it came from", () => {
    expect(inUnit(0.6477, "in")).toBeCloseTo(25.5, 12);
    expect(inUnit(294.15, "C")).toBeCloseTo(21, 10);
    expect(formatQuantity(-0.0000001, "mm", 2)).toBe("0.00 mm");
  });
});
