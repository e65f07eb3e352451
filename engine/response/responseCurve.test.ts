import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { boxBody, modalFlexibility, sixCrowns, topPlate } from "./body.fixture.ts";
import { coupleBody } from "./coupleBody.ts";
import { crownMobility } from "./crownMobility.ts";
import { forcedResponse } from "./forcedResponse.ts";
import { responseCurve } from "./responseCurve.ts";

const crowns = sixCrowns.slice(3, 4);
const parts = boxBody({ crowns, bridgeFlexibility: modalFlexibility(topPlate, crowns, 200) });
const body = opened(coupleBody(parts, quiet));

describe("responseCurve", () => {
  it("is the normal mobility of the only crown where there is but one", () => {
    const { mobility } = responseCurve(body, Float64Array.of(30, 97, 150, 500));
    [30, 97, 150, 500].forEach((f, k) => {
      const y = crownMobility(body, 2 * Math.PI * f);
      expect(mobility[k] / Math.hypot(y.re[0], y.im[0])).toBeCloseTo(1, 12);
    });
  });

  it("has the pressure of the net volume velocity as a small source, as the full equations give it, within 1 dB", () => {
    const frequencies = Float64Array.of(60, 90, 110, 180, 200);
    const { pressure } = responseCurve(body, frequencies);
    frequencies.forEach((f, k) => {
      const w = 2 * Math.PI * f;
      const flow = opened(forcedResponse(parts, 0, w)).volumeVelocity;
      const full = (parts.cavity.air.density * w * Math.hypot(flow.re, flow.im)) / (4 * Math.PI);
      expect(Math.abs(20 * Math.log10(pressure[k] / full))).toBeLessThan(1);
    });
  });

  it("peaks at the main modes", () => {
    const main = body.frequency[body.name.indexOf("main air")];
    const { pressure } = responseCurve(body, Float64Array.of(0.9 * main, main, 1.1 * main));
    expect(pressure[1]).toBeGreaterThan(2 * pressure[0]);
    expect(pressure[1]).toBeGreaterThan(2 * pressure[2]);
  });
});
