import { describe, expect, it } from "vitest";
import { celsiusZero } from "#engine/units";
import { species } from "./catalogue.ts";
import { strengthRows } from "./strength.data.ts";
import { moistureFactor, type StrengthKind, strengthOf, temperatureFactor } from "./strength.ts";

const kinds: readonly StrengthKind[] = [
  "bending-along",
  "tension-along",
  "compression-along",
  "shear-along",
  "rolling-shear",
  "tension-across",
  "compression-across",
];

describe("strength of a species", () => {
  it("is given for every species of the catalogue in bending, and for none that it lacks", () => {
    expect(Object.keys(strengthRows).sort()).toEqual(species.map((s) => s.name).sort());
    for (const { name } of species)
      expect(strengthOf(name, "bending-along")?.dry.value, name).toBeGreaterThan(2e7);
    expect(strengthOf("Koa", "bending-along")).toBeNull();
  });

  it("is absent where the table has an empty cell, and derived across the grain, which says so", () => {
    expect(strengthOf("Rosewood, Indian", "compression-across")).toBeNull();
    const across = strengthOf("Maple, sugar", "tension-across");
    expect(across?.dry.value).toBeCloseTo(0.04 * 109e6, 0);
    expect([across?.dry.how, across?.dry.note]).toEqual([
      "derived",
      "empty cell: 0.04 of the modulus of rupture",
    ]);
  });

  it("takes 0.04 of the modulus of rupture, near the median of the rows that have the cell", () => {
    const shares = Object.values(strengthRows)
      .map(([, dry]) => (dry[4] === null || dry[0] === null ? Number.NaN : dry[4] / dry[0]))
      .filter((share) => Number.isFinite(share))
      .sort((a, b) => a - b);
    expect(shares[Math.floor(shares.length / 2)]).toBeCloseTo(0.04, 2);
  });

  it("keeps the rupture that was read, and the rows from memory agree with it", () => {
    for (const { name, modulusOfRupture } of species) {
      const dry = strengthRows[name]?.[1][0];
      if (modulusOfRupture === null) continue;
      expect(strengthOf(name, "bending-along")?.dry).toEqual(modulusOfRupture);
      expect((dry ?? 0) * 1e3, name).toBeCloseTo(modulusOfRupture.value, -3);
    }
  });

  it("is lower across the grain than along it in every wood, and lower rolling than sliding", () => {
    for (const { name } of species) {
      const at = (kind: StrengthKind) => strengthOf(name, kind)?.dry.value ?? Number.NaN;
      if (strengthOf(name, "tension-across") !== null)
        expect(at("tension-across"), name).toBeLessThan(0.1 * at("bending-along"));
      expect(at("rolling-shear"), name).toBeLessThan(0.3 * at("shear-along"));
      expect(at("compression-along"), name).toBeLessThan(at("bending-along"));
    }
  });
});

describe("factors on strength", () => {
  const sitka = (kind: StrengthKind) => strengthOf("Spruce, Sitka", kind)!;

  it("is 1 at 12 % moisture and 20 degrees Celsius for every kind", () => {
    for (const kind of kinds) {
      expect(moistureFactor(sitka(kind), 0.12).factor).toBeCloseTo(1, 12);
      expect(temperatureFactor(kind, celsiusZero + 20)?.factor).toBe(1);
    }
  });

  it("falls with moisture and warmth all the way", () => {
    for (const kind of kinds) {
      const wet = [0.05, 0.08, 0.12, 0.16, 0.2].map((m) => moistureFactor(sitka(kind), m).factor);
      const warm = [20, 35, 60].map((t) => temperatureFactor(kind, celsiusZero + t)?.factor ?? Number.NaN);
      for (const list of [wet, warm])
        for (let i = 1; i < list.length; i++) expect(list[i], kind).toBeLessThanOrEqual(list[i - 1]!);
    }
  });

  it("reaches the green strength at the intersection moisture (WH-MECH eq. 5-3)", () => {
    const bending = sitka("bending-along");
    expect(moistureFactor(bending, 0.3).factor * bending.dry.value).toBeCloseTo(bending.green ?? 0, 3);
  });

  it("counts no gain below 4 % moisture, and is absent beyond 0 to 66 degrees Celsius", () => {
    for (const kind of kinds)
      expect(moistureFactor(sitka(kind), 0.01).factor).toBe(moistureFactor(sitka(kind), 0.04).factor);
    expect(temperatureFactor("bending-along", celsiusZero + 70)).toBeNull();
    expect(temperatureFactor("bending-along", celsiusZero - 5)).toBeNull();
  });
});
