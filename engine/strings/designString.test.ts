import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { StringConstruction } from "./design.ts";
import { designString } from "./designString.ts";
import { breakMargin, stretched, tension } from "./tension.ts";

const round: StringConstruction = {
  kind: "wound",
  coreDiameter: 0.45e-3,
  coreShape: "round",
  wraps: [{ diameter: 0.4e-3, material: "phosphor-bronze" }],
};
const hex: StringConstruction = { ...round, coreShape: "hex" };

describe("a string's construction", () => {
  it("gives a wound string the mass of its core and of a helix of wire", () => {
    // one turn of pitch d: a helix of length sqrt((pi (D + d))^2 + d^2) and section pi d^2/4
    const [D, d] = [0.45e-3, 0.4e-3];
    const turn = Math.hypot(Math.PI * (D + d), d);
    const expected = 7850 * (Math.PI / 4) * D * D + (8800 * (Math.PI / 4) * d * d * turn) / d;
    expect(opened(designString(round)).linearDensity / expected).toBeCloseTo(1, 12);
    expect(opened(designString(round)).diameter).toBeCloseTo(D + 2 * d, 12);
  });

  it("gives a hexagonal core its own section: 1.10 of the round one's area, 1.23 of its stiffness", () => {
    const [a, b] = [opened(designString(hex)), opened(designString(round))];
    // the wrap, a spring, adds a few thousandths
    expect(a.axialStiffness / b.axialStiffness).toBeCloseTo(((Math.sqrt(3) / 2) * 4) / Math.PI, 2);
    // integral over a hexagon, summed here from its corners, against pi/64 d^4
    const side = 1 / Math.sqrt(3);
    let inertia = 0;
    for (let k = 0; k < 6; k++) {
      const [p, q] = [k, k + 1].map((j) => [
        side * Math.cos((j * Math.PI) / 3),
        side * Math.sin((j * Math.PI) / 3),
      ]) as [number[], number[]];
      const cross = p[0]! * q[1]! - q[0]! * p[1]!;
      inertia += (cross * (p[1]! ** 2 + p[1]! * q[1]! + q[1]! ** 2)) / 12;
    }
    expect(a.bendingStiffness / b.bendingStiffness).toBeCloseTo(inertia / (Math.PI / 64), 1);
  });

  it("takes a wrap for the spring beside the core that it is: some hundredths of its stiffness in bending", () => {
    const core = opened(designString({ kind: "plain", diameter: 0.45e-3, material: "steel" }));
    const wound = opened(designString(round));
    const [D, d, E] = [0.85e-3, 0.4e-3, 110e9];
    // a turn of wire bends and twists by turns along the coil: mean of 1/EI and 1/GJ, over a turn's length per pitch
    const flexibility = (1 / ((E * Math.PI * d ** 4) / 64) + 1 / (((E / 2.6) * Math.PI * d ** 4) / 32)) / 2;
    const spring = d / (Math.PI * D * flexibility);
    expect((wound.bendingStiffness - core.bendingStiffness) / spring).toBeCloseTo(1, 9);
    expect(spring / core.bendingStiffness).toBeGreaterThan(0.01);
    expect(spring / core.bendingStiffness).toBeLessThan(0.1);
    expect(wound.axialStiffness / core.axialStiffness - 1).toBeLessThan(0.005);
  });

  it("lets the corners of a hexagonal core bite into the wrap: thinner than corners and wires, thicker than flats and wires", () => {
    const { diameter } = opened(designString(hex));
    expect(diameter).toBeLessThan(0.45e-3 * (2 / Math.sqrt(3)) + 0.8e-3);
    expect(diameter).toBeGreaterThan(0.45e-3 + 0.8e-3);
  });

  it("adds a second wrap around the first, heavier than the same wire around the core", () => {
    const once = opened(designString(round)).linearDensity;
    const wrap = { diameter: 0.4e-3, material: "phosphor-bronze" } as const;
    const core = opened(designString({ kind: "plain", diameter: 0.45e-3, material: "steel" })).linearDensity;
    const twice = opened(designString({ ...round, wraps: [wrap, wrap] })).linearDensity;
    expect((twice - once) / (once - core)).toBeCloseTo((0.45 + 3 * 0.4) / (0.45 + 0.4), 1);
  });

  it("takes the maker's weighed mass and breaking force as they are, and is surer of them", () => {
    const given = opened(designString(round, { linearDensity: 0.006, breakingForce: 300 }));
    expect(given).toMatchObject({ linearDensity: 0.006, breakingForce: 300 });
    expect(given.spread.linearDensity).toBeLessThan(opened(designString(round)).spread.linearDensity);
    expect(breakMargin(given, 100)).toBe(3);
  });

  it("breaks by its core alone", () => {
    const core = opened(designString({ kind: "plain", diameter: 0.45e-3, material: "steel" }));
    expect(opened(designString(round)).breakingForce).toBeCloseTo(core.breakingForce, 9);
  });

  it("refuses what is no string, with the reason", () => {
    expect(designString({ kind: "plain", diameter: 12, material: "steel" })).toMatchObject({
      ok: false,
      reason: "bad-diameter",
    });
    expect(designString({ ...round, wraps: [] } as StringConstruction)).toMatchObject({
      reason: "bad-wraps",
    });
    const wrap = { diameter: 0.2e-3, material: "steel" } as const;
    expect(designString({ ...round, wraps: [wrap, wrap, wrap] }).ok).toBe(true);
    expect(designString({ ...round, wraps: [wrap, wrap, wrap, wrap] })).toMatchObject({
      reason: "bad-wraps",
    });
    expect(designString(round, { linearDensity: -1 })).toMatchObject({ reason: "bad-given" });
    expect(designString({ kind: "plain", diameter: 0.3e-3, material: "nickel" })).toMatchObject({
      reason: "no-strength",
    });
    expect(
      designString({ kind: "plain", diameter: 0.3e-3, material: "nickel" }, { breakingForce: 100 }).ok,
    ).toBe(true);
  });

  it("warns when the strength is read outside the range of its law, and not otherwise", () => {
    const thin = designString({ kind: "plain", diameter: 0.07e-3, material: "steel" });
    expect(thin.ok && thin.warnings.map((w) => w.code)).toEqual(["strength-extrapolated"]);
    const usual = designString(round);
    expect(usual.ok && usual.warnings).toEqual([]);
  });

  it("keeps its tension when it is stopped", () => {
    const design = opened(designString(round));
    const fretted = stretched(design, 0.65, 110, 0.325);
    expect(fretted.length).toBe(0.325);
    expect(fretted.tension).toBe(tension(design.linearDensity, 0.65, 110));
  });
});
