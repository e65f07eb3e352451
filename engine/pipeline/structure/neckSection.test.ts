import { expect, it } from "vitest";
import type { Build } from "#engine/instrument";
import { neckSection } from "./neckSection.ts";

const wood = { EL: 10e9, GLR: 0.8e9, density: 600 };
const neck = { wood, boardWood: wood, boardThickness: 0.006 } as unknown as Build["neck"];

it("weighs board and half ellipse, and bends like them about the common centre", () => {
  const s = neckSection(neck, 0.05, 0.022, []);
  const board = 0.05 * 0.006;
  const shaft = (Math.PI / 4) * 0.05 * 0.016;
  expect(s.massPerLength).toBeCloseTo(600 * (board + shaft), 10);
  const centre = (board * 0.003 + shaft * (0.006 + (4 * 0.016) / (3 * Math.PI))) / (board + shaft);
  expect(s.depth).toBeCloseTo(centre, 12);
  // the second moment by slices of 0.01 mm
  let sum = 0;
  for (let z = 5e-6; z < 0.022; z += 1e-5) {
    const width = z < 0.006 ? 0.05 : 0.05 * Math.sqrt(1 - ((z - 0.006) / 0.016) ** 2);
    sum += width * (z - centre) ** 2 * 1e-5;
  }
  expect(s.EIUpright / (10e9 * sum)).toBeCloseTo(1, 4);
});

it("gains stiffness from carbon, and mass alone from a rod that lies loose", () => {
  const bare = neckSection(neck, 0.05, 0.022, []);
  const carbon = neckSection(neck, 0.05, 0.022, [
    { kind: "carbon", width: 0.004, height: 0.009, length: 0.4, axisDepth: 0.0045, tension: null },
  ]);
  const loose = neckSection(neck, 0.05, 0.022, [
    { kind: "adjustable", width: 0.006, height: 0.009, length: 0.4, axisDepth: 0.0045, tension: null },
  ]);
  expect(carbon.EIUpright).toBeGreaterThan(1.02 * bare.EIUpright);
  expect(loose.EIUpright).toBeLessThan(bare.EIUpright);
  expect(loose.massPerLength - bare.massPerLength).toBeCloseTo((7850 - 600) * 0.006 * 0.009, 9);
});

it("stiffens most with a bar far from its elastic centre, and bends easier with a V than with a U", () => {
  const bar = (axisDepth: number) =>
    neckSection(neck, 0.05, 0.022, [
      { kind: "carbon", width: 0.006, height: 0.004, length: 0.4, axisDepth, tension: null },
    ]);
  const bare = neckSection(neck, 0.05, 0.022, []);
  const [high, middle, deep] = [bar(0.002), bar(0.0035), bar(0.012)] as const;
  expect(deep.EIUpright).toBeGreaterThan(high.EIUpright);
  expect(high.depth).toBeLessThan(bare.depth);
  expect(deep.depth).toBeGreaterThan(bare.depth);
  // on the elastic centre a bar adds its own stiffness and little else
  const own = ((125e9 - 10e9) * 0.006 * 0.004 ** 3) / 12;
  expect(middle.EIUpright - bare.EIUpright).toBeLessThan(1.5 * own);
  const shaped = (profile: string) => neckSection({ ...neck, profile }, 0.05, 0.022, []).EIUpright;
  expect(shaped("soft C")).toBe(bare.EIUpright);
  expect(shaped("V")).toBeLessThan(shaped("rounded V"));
  expect(shaped("rounded V")).toBeLessThan(bare.EIUpright);
  expect(shaped("U")).toBeGreaterThan(shaped("full D"));
  expect(shaped("full D")).toBeGreaterThan(bare.EIUpright);
});
