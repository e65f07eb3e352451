import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { box, ellipse, opening } from "./cavity.fixture.ts";
import { openingPanels } from "./openingPanels.ts";
import { evenFlow, openingPotential } from "./openingPotential.ts";

/** m: conductance of a thin hole in an endless plate, from 4 and 6 rows of panels. */
function conductance(polygon: Float64Array, scoop = 0): number {
  const one = (columns: number, rows: number) => {
    const spec = { ...box, hole: opening(polygon, { scoop: { height: scoop, wall: 0 } }) };
    const panels = openingPanels(spec, { polygon, scooped: null }, columns, rows);
    return opened(evenFlow(openingPotential(panels), panels.count)).reduce((sum, f) => sum + f, 0) / 2;
  };
  const [coarse, fine] = [one(16, 4), one(24, 6)];
  return fine + (fine - coarse) / 1.25;
}

/** Two half ellipses that meet in cusps. No point of it sees the whole edge. */
function crescent(): Float64Array {
  const p: number[] = [];
  for (let i = 0; i <= 90; i++)
    p.push(0.06 * Math.sin((Math.PI * i) / 90), -0.06 * Math.cos((Math.PI * i) / 90));
  for (let i = 1; i < 90; i++)
    p.push(0.03 * Math.sin((Math.PI * i) / 90), 0.06 * Math.cos((Math.PI * i) / 90));
  return Float64Array.from(p);
}

describe("the potential of an opening under an endless flange", () => {
  it("meets a square hole's 1.1523 sides (from the capacity 0.36679 of a square lamina, from memory)", () => {
    const c = conductance(Float64Array.of(0, 0, 0.1, 0, 0.1, 0.1, 0, 0.1));
    expect(Math.abs(c / (Math.PI * 0.36679 * 0.1) - 1)).toBeLessThan(4e-3);
  });

  it("conducts least through a circle of all holes of one area (Rayleigh), bent ones as well", () => {
    const circle = (area: number) => 2 * Math.sqrt(area / Math.PI);
    expect(Math.abs(conductance(ellipse(0.3, 0.1, 0.05, 0.05)) / 0.1 - 1)).toBeLessThan(1.5e-3);
    for (const polygon of [ellipse(0, 0, 0.07, 0.03), crescent()])
      expect(conductance(polygon)).toBeGreaterThan(1.02 * circle(polygonArea(polygon)));
  });

  it("does not depend on how the hole lies, and scales with its size", () => {
    const straight = conductance(ellipse(0, 0, 0.06, 0.04));
    const turned = ellipse(0, 0, 0.06, 0.04);
    for (let i = 0; i < turned.length; i += 2) {
      const [x, y] = [turned[i], turned[i + 1]];
      turned[i] = 0.8 * x - 0.6 * y + 0.2;
      turned[i + 1] = 0.6 * x + 0.8 * y;
    }
    expect(conductance(turned) / straight).toBeCloseTo(1, 3);
    expect(conductance(ellipse(0, 0, 60, 40)) / straight / 1000).toBeCloseTo(1, 5);
  });
});
