import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { holeConductance } from "./holeConductance.ts";

function ellipse(a: number, b: number, turn = 0, count = 240): Float64Array {
  const p = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const t = (2 * Math.PI * i) / count;
    const [u, v] = [a * Math.cos(t), b * Math.sin(t)];
    p[2 * i] = u * Math.cos(turn) - v * Math.sin(turn) + 0.3;
    p[2 * i + 1] = u * Math.sin(turn) + v * Math.cos(turn) - 0.1;
  }
  return p;
}

/** A crescent: two half ellipses that meet in cusps. No point of it sees the whole edge. */
function crescent(): Float64Array {
  const p: number[] = [];
  for (let i = 0; i <= 90; i++)
    p.push(0.06 * Math.sin((Math.PI * i) / 90), -0.06 * Math.cos((Math.PI * i) / 90));
  for (let i = 1; i < 90; i++)
    p.push(0.03 * Math.sin((Math.PI * i) / 90), 0.06 * Math.cos((Math.PI * i) / 90));
  return Float64Array.from(p);
}

describe("holeConductance", () => {
  it("does not depend on how the hole lies or which way its edge runs", () => {
    const straight = opened(holeConductance(ellipse(0.06, 0.04)));
    const turned = opened(holeConductance(ellipse(0.06, 0.04, 0.7).reverse() as Float64Array));
    // Reversing the flat array swaps x and y as well: a mirror image, run the other way.
    expect(turned.conductance / straight.conductance).toBeCloseTo(1, 3);
  });

  it("scales with the size", () => {
    const small = opened(holeConductance(ellipse(0.06, 0.04)));
    const large = opened(holeConductance(ellipse(60, 40)));
    expect(large.conductance / small.conductance / 1000).toBeCloseTo(1, 4);
  });

  it("conducts less with even velocity than with even potential, and a circle least of all shapes of one area (Rayleigh)", () => {
    for (const polygon of [ellipse(0.05, 0.05), ellipse(0.07, 0.03), crescent()]) {
      const c = opened(holeConductance(polygon));
      expect(c.pistonConductance).toBeLessThan(c.conductance);
      expect(c.conductance).toBeGreaterThan(2 * Math.sqrt(c.area / Math.PI) * (1 - 4e-4));
    }
  });

  it("meets a square hole's 1.1523 sides (from the capacity 0.36679 of a square lamina, from memory)", () => {
    const c = opened(holeConductance(Float64Array.from([0, 0, 0.1, 0, 0.1, 0.1, 0, 0.1])));
    expect(Math.abs(c.conductance / (Math.PI * 0.36679 * 0.1) - 1)).toBeLessThan(2e-3);
  });

  it("spreads the unit flow over the opening, more of it near the edge", () => {
    const { flow } = opened(holeConductance(ellipse(0.05, 0.05)));
    let total = 0;
    let outside = 0;
    for (let k = 0; k < flow.strength.length; k++) {
      total += flow.strength[k];
      // For a circle the flow outside radius r is sqrt(1 - r2/a2): 0.5 at r2 = 3/4 a2.
      const r2 = (flow.points[2 * k] - 0.3) ** 2 + (flow.points[2 * k + 1] + 0.1) ** 2;
      if (r2 > 0.75 * 0.05 ** 2) outside += flow.strength[k];
    }
    expect(total).toBeCloseTo(1, 12);
    expect(outside).toBeGreaterThan(0.45);
    expect(outside).toBeLessThan(0.6);
  });

  it("refuses a hole without area", () => {
    expect(holeConductance(Float64Array.from([0, 0, 0.1, 0, 0.05, 0]))).toMatchObject({
      ok: false,
      reason: "hole-degenerate",
    });
  });
});
