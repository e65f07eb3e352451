import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { coupleStructure } from "./coupleStructure.ts";
import { crownMobility } from "./crownMobility.ts";
import { forcedStructure } from "./forcedStructure.ts";
import { responseCurve } from "./responseCurve.ts";
import { boxCrowns, wholeBox } from "./wholeBox.fixture.ts";

// On a node of the mesh, so that the saddle's midpoint and the crown are one place.
const parts = wholeBox({ crowns: [{ ...boxCrowns[3], y: 0.02 }] });
const body = opened(coupleStructure(parts, quiet));

describe("responseCurve", () => {
  it("is the normal mobility of the only crown where there is but one", () => {
    const { mobility } = responseCurve(body, Float64Array.of(30, 97, 150, 500));
    [30, 97, 150, 500].forEach((f, k) => {
      const y = crownMobility(body, 2 * Math.PI * f);
      expect(mobility[k] / Math.hypot(y.re[0], y.im[0])).toBeCloseTo(1, 12);
    });
  });

  it("has the pressure of the net volume velocity as a small source, as the full equations give it, within 0.2 dB", () => {
    const frequencies = Float64Array.of(60, 90, 110, 180, 200);
    const { pressure } = responseCurve(body, frequencies);
    frequencies.forEach((f, k) => {
      const w = 2 * Math.PI * f;
      const { flow } = opened(forcedStructure(parts, 0, w));
      const net = (part: Float64Array) => part.reduce((sum, v) => sum + v, 0);
      const full = (parts.air.density * w * Math.hypot(net(flow.re), net(flow.im))) / (4 * Math.PI);
      expect(Math.abs(20 * Math.log10(pressure[k] / full))).toBeLessThan(0.2);
    });
  });

  it("peaks at the main modes", () => {
    const main = body.frequency[body.name.indexOf("main air")];
    const { pressure } = responseCurve(body, Float64Array.of(0.9 * main, main, 1.1 * main));
    expect(pressure[1]).toBeGreaterThan(2 * pressure[0]);
    expect(pressure[1]).toBeGreaterThan(2 * pressure[2]);
  });
});
