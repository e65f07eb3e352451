import { describe, expect, it } from "vitest";
import { topPlate } from "./body.fixture.ts";
import { outwardMotion } from "./bodyFrames.ts";
import { supportedPlateModes } from "./supportedPlate.fixture.ts";
import { topThirds } from "./topThirds.ts";

describe("topThirds", () => {
  const plate = supportedPlateModes({ ...topPlate, count: 4, cells: [50, 36] });
  const thirds = topThirds(plate, outwardMotion(plate), null);
  const m = thirds.motions;

  it("gives each third a third of a rectangle", () => {
    for (let third = 0; third < 3; third++) {
      expect(thirds.flow[third * m + 4 + 2]).toBeCloseTo((0.48 * 0.36) / 3, 3);
    }
  });

  it("adds up to the whole plate: integral of phi_i phi_j is delta_ij / (mass per area)", () => {
    for (let i = 0; i < 4; i++) {
      for (let j = 0; j < 4; j++) {
        const sum = [0, 1, 2].reduce((s, third) => s + thirds.product[(third * m + i) * m + j], 0);
        expect(sum).toBeCloseTo(i === j ? 1 / topPlate.massPerArea : 0, 6);
      }
    }
  });

  it("leaves the strip over side and lining out of what moves, not out of the flow", () => {
    const [outline, width] = [Float64Array.of(0, -0.18, 0.48, -0.18, 0.48, 0.18, 0, 0.18), 0.01];
    const strip = topThirds(plate, outwardMotion(plate), { outline, width });
    const heave = 4 + 2;
    const area = (third: number) => strip.product[(third * m + heave) * m + heave];
    expect(area(0)).toBeCloseTo(0.15 * 0.34, 3);
    expect(area(1)).toBeCloseTo(0.16 * 0.34, 3);
    expect(area(2)).toBeCloseTo(0.15 * 0.34, 3);
    strip.flow.forEach((f, k) => {
      expect(f).toBeCloseTo(thirds.flow[k], 12);
    });
  });

  it("sees the first mode's flow as 1/4, 1/2, 1/4 and calls the neck's end upper", () => {
    const flow = [0, 1, 2].map((third) => thirds.flow[third * m] / plate.volume[0]);
    expect(flow[0]).toBeCloseTo(0.25, 2);
    expect(flow[1]).toBeCloseTo(0.5, 2);
    // A tilt that lifts the neck end (Theta_y < 0).
    expect(-thirds.flow[4 + 4]).toBeGreaterThan(-thirds.flow[2 * m + 4 + 4]);
  });
});
