import { describe, expect, it } from "vitest";
import { airProperties } from "./airProperties.ts";

describe("airProperties", () => {
  const room = { temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 };

  it("makes warm and moist air lighter and faster", () => {
    const base = airProperties(room);
    const warm = airProperties({ ...room, temperature: 298.15 });
    const moist = airProperties({ ...room, relativeHumidity: 0.8 });
    expect(warm.density).toBeLessThan(base.density);
    expect(warm.soundSpeed).toBeGreaterThan(base.soundSpeed);
    expect(moist.density).toBeLessThan(base.density);
    expect(moist.soundSpeed).toBeGreaterThan(base.soundSpeed);
  });

  it("keeps c2 = gamma p / rho to the few parts in a thousand by which air is not ideal", () => {
    const a = airProperties(room);
    expect((a.soundSpeed ** 2 * a.density) / (a.heatRatio * room.pressure)).toBeCloseTo(1, 2);
  });

  it("throws on a humidity given in percent", () => {
    expect(() => airProperties({ ...room, relativeHumidity: 50 })).toThrow(/50/);
  });
});
