import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { airProperties } from "./airProperties.ts";
import { holeFlow } from "./holeFlow.ts";

const air = airProperties({ temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 });

function circle(x: number, y: number, a: number, count = 180): Float64Array {
  const p = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    p[2 * i] = x + a * Math.cos((2 * Math.PI * i) / count);
    p[2 * i + 1] = y + a * Math.sin((2 * Math.PI * i) / count);
  }
  return p;
}
const hole = { polygon: circle(0.3, 0, 0.05), wallThickness: 0.003, outline: null, scoopArea: 0, air };

describe("holeFlow", () => {
  it("has the end corrections of matched Bessel modes for walls from 0.02 to 0.2 radii (computed by us outside this code)", () => {
    for (const [ratio, quoted] of [
      [0.02, 0.7928],
      [0.06, 0.8],
      [0.1, 0.8046],
      [0.2, 0.8115],
    ]) {
      const { inertance, area } = opened(holeFlow({ ...hole, wallThickness: ratio * 0.05 }));
      const length = (inertance * area) / air.density;
      expect(Math.abs((length / 0.05 - ratio) / 2 - quoted)).toBeLessThan(0.0015);
    }
  });

  it("loses outer air as the body's edge comes near, and stays inside its range", () => {
    const endless = opened(holeFlow(hole));
    const middle = opened(holeFlow({ ...hole, outline: circle(0.3, 0, 0.2) }));
    const near = opened(holeFlow({ ...hole, outline: circle(0.44, 0, 0.2) }));
    expect(middle.surround).toBeCloseTo(0.25, 3);
    expect(middle.inertance).toBeLessThan(endless.inertance);
    expect(near.surround).toBeGreaterThan(middle.surround);
    expect(near.inertance).toBeLessThan(middle.inertance);
    for (const h of [endless, middle, near]) {
      expect(h.inertance).toBeGreaterThan(h.inertanceRange[0]);
      expect(h.inertance).toBeLessThan(h.inertanceRange[1]);
    }
  });

  it("widens the range and says so when the hole breaks the body's edge", () => {
    const kept = holeFlow(hole);
    const broken = holeFlow({ ...hole, scoopArea: 0.002 });
    expect(kept.ok && kept.warnings).toEqual([]);
    expect(broken.ok && broken.warnings.map((w) => w.code)).toEqual(["hole-breaks-edge"]);
    expect(opened(broken).inertanceRange[0]).toBeLessThan(opened(kept).inertanceRange[0]);
    expect(opened(broken).inertance).toBe(opened(kept).inertance);
  });

  it("spans about 7 % in frequency between the ends of the range at one end (physics: 0.82 to 0.613 a)", () => {
    const { inertanceRange, inertance } = opened(holeFlow({ ...hole, wallThickness: 0 }));
    expect(Math.sqrt(inertance / inertanceRange[0])).toBeGreaterThan(1.06);
    expect(Math.sqrt(inertance / inertanceRange[0])).toBeLessThan(1.08);
  });

  it("refuses a negative wall", () => {
    expect(holeFlow({ ...hole, wallThickness: -0.001 })).toMatchObject({ ok: false, reason: "hole-values" });
  });
});
