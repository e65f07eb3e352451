import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { air, box, egg, ellipse, opening } from "./cavity.fixture.ts";
import { cavityModes } from "./cavityModes.ts";

describe("cavityModes", () => {
  it("lists the even pressure first, then the others with mean square 1, over the net volume", () => {
    const cavity = opened(cavityModes({ ...egg, solidVolume: 0.0005 }, quiet));
    expect(cavity.omega[0]).toBe(0);
    expect(cavity.omega[1] / (2 * Math.PI)).toBeGreaterThan(300);
    expect(new Set(cavity.pressure.subarray(0, cavity.wall.fieldNode.length))).toEqual(new Set([1]));
    expect(cavity.netVolume).toBeCloseTo(cavity.grossVolume - 0.0005, 12);
    for (const v of cavity.volume) expect(v).toBe(cavity.netVolume);
    expect(Math.max(...cavity.omega) / (2 * Math.PI)).toBeLessThan(700);
  });

  it("loses at a box's walls what the closed form says", () => {
    const cavity = opened(cavityModes({ ...box, layers: 2, size: 0.05 }, quiet));
    const [lx, ly, d] = [0.5, 0.4, 0.1];
    const walls = 2 * (lx * ly + lx * d + ly * d);
    const volume = lx * ly * d;
    const thermal = (air.heatRatio - 1) * Math.sqrt(air.thermalDiffusivity / 2);
    expect(cavity.heat[0]).toBeCloseTo((thermal * walls) / volume, 9);
    // psi = sqrt 2 cos(pi x/lx): full at the two ends, half its square along the other four walls.
    expect(cavity.heat[1] / ((thermal * (walls + 2 * ly * d)) / volume)).toBeCloseTo(1, 2);
    const rubbed = 2 * (lx * ly + lx * d);
    expect(cavity.friction[1] / ((Math.sqrt(air.viscosity / air.density / 2) * rubbed) / volume)).toBeCloseTo(
      1,
      2,
    );
    expect(cavity.friction[0]).toBe(0);
    const braced = opened(cavityModes({ ...box, layers: 2, size: 0.05, wallArea: 1.2 * walls }, quiet));
    expect(braced.heat[0] / cavity.heat[0]).toBeCloseTo(1.2, 9);
  });

  it("lets the first pattern carry unit flow and the others none, alike inside and in a mirror", () => {
    const cavity = opened(cavityModes(egg, quiet));
    const { count, flow, areas, coupling, inertance, wall } = cavity.aperture!;
    expect(count).toBe(6);
    for (let k = 0; k < count; k++) {
      const net = flow.subarray(k * areas.length, (k + 1) * areas.length).reduce((sum, v) => sum + v, 0);
      expect(net).toBeCloseTo(k === 0 ? 1 : 0, 9);
      expect(coupling[k * cavity.count]).toBeCloseTo(k === 0 ? 1 : 0, 9);
      for (let m = 0; m < count; m++) {
        expect(inertance[k * count + m]).toBeCloseTo(inertance[m * count + k], 9);
        expect(inertance[k * count + k]).toBeGreaterThan(
          Math.abs(inertance[k * count + m]) * (k === m ? 0 : 1),
        );
      }
    }
    // Even velocity through a wall of this thickness would be rho h/S.
    expect(wall[0] / ((air.density * 0.003) / (Math.PI * 0.045 ** 2))).toBeGreaterThan(1);
    const flip = (p: Float64Array) => p.map((v, i) => (i % 2 === 0 ? v : -v));
    const mirrored = opened(
      cavityModes(
        {
          ...egg,
          outline: flip(egg.outline),
          back: { ...egg.back, dome: { radius: 3, apex: [0.22, -0.01] } },
          hole: opening(flip(egg.hole!.polygon)),
        },
        quiet,
      ),
    );
    expect(mirrored.aperture!.inertance[0] / inertance[0]).toBeCloseTo(1, 3);
    expect(mirrored.omega[1] / cavity.omega[1]).toBeCloseTo(1, 4);
  });

  it("takes a wall that swells round the rim between its two thicknesses", () => {
    const rim = ellipse(0.3, 0.02, 0.045, 0.045, 40);
    const swelling = Float64Array.from(
      { length: 40 },
      (_, i) => 0.004 + 0.002 * Math.cos((2 * Math.PI * i) / 40),
    );
    const wallOf = (wall: number | { points: Float64Array; thickness: Float64Array }) =>
      opened(cavityModes({ ...egg, hole: opening(egg.hole!.polygon, { wall }) }, quiet)).aperture!.wall[0];
    const swollen = wallOf({ points: rim, thickness: swelling });
    expect(swollen).toBeGreaterThan(wallOf(0.002));
    expect(swollen).toBeLessThan(wallOf(0.006));
    expect(wallOf({ points: rim, thickness: swelling.map(() => 0.004) })).toBeCloseTo(wallOf(0.004), 9);
  });

  it("meets half a hole at a wall by its mirror image: through a thick wall, twice the inner inertance of the whole one", () => {
    const inner = (over: Partial<typeof box>) => {
      const cavity = opened(cavityModes({ ...box, layers: 2, size: 0.06, ...over }, quiet));
      const { aperture, omega, volume } = cavity;
      let sum = aperture!.inner[0];
      for (let n = 1; n < cavity.count; n++)
        sum += (air.density * air.soundSpeed ** 2 * aperture!.coupling[n] ** 2) / (volume[n] * omega[n] ** 2);
      return sum;
    };
    // The thick wall evens the flow out, so that both have the same pattern.
    const shut = { scoop: { height: 0, wall: 0 }, wall: 0.1 };
    const half = inner({ hole: opening(ellipse(0, 0.2, 0.05, 0.05), shut) });
    const whole = inner({
      outline: Float64Array.of(-0.5, 0, 0.5, 0, 0.5, 0.4, -0.5, 0.4),
      hole: opening(ellipse(0, 0.2, 0.05, 0.05), shut),
    });
    expect(Math.abs(half / (2 * whole) - 1)).toBeLessThan(1e-2);
  });

  it("breathes more easily the further the side is scooped", () => {
    const flows = [0, 0.015, 0.04].map((height) => {
      const hole = opening(ellipse(0.03, 0.2, 0.05, 0.05), { scoop: { height, wall: 0.002 } });
      return opened(cavityModes({ ...box, hole, size: 0.06 }, quiet)).aperture!.inertance[0];
    });
    expect(flows[1]).toBeLessThan(flows[0]);
    expect(flows[2]).toBeLessThan(0.95 * flows[1]);
  });

  it("says what is wrong with a filled box, senseless values and a cancelled run", () => {
    expect(cavityModes({ ...box, solidVolume: 0.03 }, quiet)).toMatchObject({ reason: "cavity-filled" });
    expect(cavityModes({ ...box, layers: 0 }, quiet)).toMatchObject({ reason: "cavity-values" });
    expect(cavityModes(box, { ...quiet, cancelled: () => true })).toMatchObject({ reason: "cancelled" });
  });
});
