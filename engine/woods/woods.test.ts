import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import {
  atMoisture,
  catalogueMaterial,
  catalogueWood,
  densityAtMoisture,
  equilibriumMoisture,
  materials,
  nearestMaterial,
  nearestSpecies,
  type SourcedValue,
  shrinkage,
  species,
  strengthAtMoisture,
  woodFaults,
} from "./index.ts";

const sources: Record<string, string> = JSON.parse(
  readFileSync(new URL("../../docs/sources.json", import.meta.url), "utf8"),
);

function values(record: object): SourcedValue[] {
  return Object.values(record).flatMap((v): SourcedValue[] => {
    if (v === null || typeof v !== "object") return [];
    return "value" in v ? [v as SourcedValue] : values(v);
  });
}

describe("the species table", () => {
  it("names a known source, an origin and a spread for every value", () => {
    expect(species.length).toBeGreaterThan(35);
    for (const v of [...species, ...materials].flatMap(values)) {
      expect(v.source === "from memory" || v.source in sources, v.source).toBe(true);
      expect(v.source === "from memory" && v.how !== "memory").toBe(false);
      expect(v.value).toBeGreaterThan(0);
      expect(v.spread).toBeGreaterThan(0);
      expect(v.spread).toBeLessThan(0.6);
    }
  });

  it("says of every assumed value what was assumed", () => {
    const assumed = species.flatMap(values).filter((v) => v.how === "assumed");
    expect(assumed.length).toBeGreaterThan(0);
    for (const v of assumed) expect(v.note).toMatch(/not tabulated/);
  });

  it("marks the shear modulus that the handbook leaves out for sugar maple as assumed, and reads Sitka's", () => {
    expect(catalogueWood("Maple, sugar")?.record.GRT.how).toBe("assumed");
    expect(catalogueWood("Maple, sugar")?.record.GLT.how).toBe("read");
    expect(catalogueWood("Spruce, Sitka")?.record.GRT.how).toBe("read");
  });

  it("holds no wood with impossible constants", () => {
    for (const s of species) expect(woodFaults(catalogueWood(s.name)!.wood)).toEqual([]);
  });

  it("gives every species once", () => {
    expect(new Set(species.map((s) => s.name)).size).toBe(species.length);
  });
});

describe("catalogueWood", () => {
  it("takes the words of a name in any order and case", () => {
    expect(catalogueWood("sitka SPRUCE")?.wood).toEqual(catalogueWood("Spruce, Sitka")?.wood);
  });

  it("has the handbook's spread of stiffness and density (from memory)", () => {
    const found = catalogueWood("Spruce, Sitka")!;
    expect([found.spread.EL, found.spread.density]).toEqual([0.22, 0.1]);
    expect(found.spread.ER).toBeGreaterThan(0.22);
  });

  it("knows no wood of a strange name, and names the nearest to a misspelt one", () => {
    expect(catalogueWood("Spruce, Sitca")).toBeNull();
    expect(nearestSpecies("Spruce, Sitca")).toBe("Spruce, Sitka");
    expect(nearestSpecies("englemann spruce")).toBe("Spruce, Engelmann");
    expect(nearestSpecies("xyz")).toBeNull();
  });

  it("knows steel and carbon, and no unobtainium", () => {
    expect(catalogueMaterial("steel")?.E).toBe(200e9);
    expect(catalogueMaterial("Carbon rod")?.density).toBe(1500);
    expect(catalogueMaterial("unobtainium")).toBeNull();
    expect(nearestMaterial("Carbon rood")).toBe("Carbon rod");
  });
});

describe("moisture", () => {
  const sitka = catalogueWood("Spruce, Sitka")!.wood;

  it("changes nothing at the same moisture, and undoes itself", () => {
    expect(opened(atMoisture(sitka, 0.12))).toEqual({ ...sitka, density: expect.closeTo(sitka.density, 9) });
    const back = opened(atMoisture(opened(atMoisture(sitka, 0.07)), 0.12, 0.07));
    expect(back.EL / sitka.EL).toBeCloseTo(1, 12);
    expect(back.density / sitka.density).toBeCloseTo(1, 12);
  });

  it("makes drier wood stiffer, lighter and less lossy, across more than along", () => {
    const dry = opened(atMoisture(sitka, 0.08));
    expect(dry.EL / sitka.EL).toBeGreaterThan(1.04);
    expect(dry.EL / sitka.EL).toBeLessThan(1.08);
    expect(dry.ER / sitka.ER).toBeGreaterThan(dry.EL / sitka.EL);
    expect(dry.density).toBeLessThan(sitka.density);
    expect(dry.loss.L).toBeLessThan(sitka.loss.L);
  });

  it("refuses what lies outside the range of its formulas", () => {
    for (const o of [
      atMoisture(sitka, 0.02),
      atMoisture(sitka, 0.25),
      atMoisture(sitka, Number.NaN),
      equilibriumMoisture(293.15, 0.99),
      equilibriumMoisture(293.15, 45),
      equilibriumMoisture(20, 0.45),
    ]) {
      expect(o.ok ? "ok" : o.reason).toBe("out-of-range");
    }
  });

  it("rises with humidity and falls with temperature", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 273, max: 330, noNaN: true }),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        (t, h) => {
          const m = opened(equilibriumMoisture(t, h));
          expect(opened(equilibriumMoisture(t, h + 0.02))).toBeGreaterThan(m);
          expect(m).toBeGreaterThan(0.005);
          expect(m).toBeLessThan(0.25);
        },
      ),
      { seed: 3 },
    );
    expect(opened(equilibriumMoisture(303.15, 0.5))).toBeLessThan(opened(equilibriumMoisture(283.15, 0.5)));
  });

  it("keeps the mass of dry wood: density of what shrinks follows from mass and volume", () => {
    // Eq. 4-13 is the average wood, whose volume shrinks by 26.5 % of its basic gravity.
    const from = 0.12;
    const rho = densityAtMoisture(448, from, 0);
    const gravity = 448 / 1120;
    const basic = gravity / (1 + 0.159 * gravity);
    expect(rho).toBeCloseTo((1000 * basic) / (1 - 0.265 * basic), 9);
  });

  it("does not shrink above fibre saturation and swells on the way back", () => {
    expect(shrinkage(0.071, 0.6, 0.3)).toBe(0);
    expect(shrinkage(0.071, 0.06, 0.12)).toBeCloseTo(-shrinkage(0.071, 0.12, 0.06), 15);
    expect(shrinkage(0.071, 0.5, 0)).toBeCloseTo(0.071, 15);
  });

  it("holds the green strength above the intersection moisture", () => {
    expect(strengthAtMoisture(103e6, 66e6, 0.24, 0.4)).toBe(66e6);
    expect(strengthAtMoisture(103e6, 66e6, 0.24, 0.24)).toBe(66e6);
    expect(strengthAtMoisture(103e6, 66e6, 0.24, 0.12)).toBe(103e6);
  });
});

describe("woodFaults", () => {
  const sitka = catalogueWood("Spruce, Sitka")!.wood;

  it("names each impossible constant", () => {
    expect(woodFaults(sitka)).toEqual([]);
    expect(woodFaults({ ...sitka, EL: -1 })).toHaveLength(1);
    expect(woodFaults({ ...sitka, GLT: Number.NaN, density: 0 })).toHaveLength(2);
    expect(woodFaults({ ...sitka, nuLR: 3.7 })[0]).toMatch(/Poisson/);
    expect(woodFaults({ ...sitka, nuLR: 3.5 })).toEqual([]);
    expect(woodFaults({ ...sitka, loss: { ...sitka.loss, L: 1.2 } })).toHaveLength(1);
  });
});
