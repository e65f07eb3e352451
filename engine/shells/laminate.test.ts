import { describe, expect, it } from "vitest";
import { laminate, plyStiffness } from "./laminate.ts";
import { spruce } from "./spruce.fixture.ts";

describe("laminate", () => {
  it("gives one layer its textbook stiffness: Q h, Q h3/12 and 5/6 G h", () => {
    const h = 0.003;
    const { stiffness: c, inertia } = laminate([{ material: spruce, angle: 0, bottom: -h / 2, top: h / 2 }]);
    const q11 = spruce.EL / (1 - (spruce.nuLR ** 2 * spruce.ER) / spruce.EL);
    expect(c[0] / (q11 * h)).toBeCloseTo(1, 12);
    expect(c[27] / ((q11 * h ** 3) / 12)).toBeCloseTo(1, 12);
    expect(Math.abs(c[3]) / c[27]).toBeLessThan(1e-12);
    expect(c[54] / ((5 / 6) * spruce.GLT * h)).toBeCloseTo(1, 12);
    expect(c[63] / ((5 / 6) * spruce.GRT * h)).toBeCloseTo(1, 12);
    expect(inertia[0] / (400 * h)).toBeCloseTo(1, 12);
    expect(inertia[2] / ((400 * h ** 3) / 12)).toBeCloseTo(1, 12);
  });

  it("does not depend on how a layer is sliced, and couples by the layer's own offset", () => {
    const one = laminate([{ material: spruce, angle: 0.7, bottom: -0.001, top: 0.003 }]);
    const two = laminate([
      { material: spruce, angle: 0.7, bottom: -0.001, top: 0.0005 },
      { material: spruce, angle: 0.7, bottom: 0.0005, top: 0.003 },
    ]);
    for (let k = 0; k < 64; k++)
      expect(Math.abs(two.stiffness[k] - one.stiffness[k])).toBeLessThan(1e-12 * one.stiffness[0]);
    // B = e A with e the height of the mid-plane of the layer
    for (const k of [0, 1, 2, 9, 18]) expect(one.stiffness[k + 3] / one.stiffness[k]).toBeCloseTo(0.001, 12);
  });

  it("turns with the grain: quarter turns swap the axes, any turn keeps the trace", () => {
    const at = (angle: number): Float64Array => plyStiffness(spruce, angle).re;
    expect(at(Math.PI / 2)[4] / at(0)[0]).toBeCloseTo(1, 12);
    expect(at(0.3)[2] / at(-0.3)[2]).toBeCloseTo(-1, 12);
    const trace = (q: Float64Array): number => q[0] + q[4] + 2 * q[8];
    expect(trace(at(0.6)) / trace(at(0))).toBeCloseTo(1, 12);
  });

  it("has the loss of a complex modulus, to first order", () => {
    const even = { ...spruce, loss: { L: 0.01, R: 0.01, LR: 0.01, transverse: 0.01 } };
    const l = laminate([{ material: even, angle: 0.7, bottom: -0.001, top: 0.003 }]);
    for (let k = 0; k < 64; k++)
      expect(Math.abs(l.loss[k] - 0.01 * l.stiffness[k])).toBeLessThan(1e-12 * l.stiffness[0]);
    // derivative of Q11 by EL, against a difference
    const onlyL = { ...spruce, loss: { L: 1, R: 0, LR: 0, transverse: 0 } };
    const d = 1e-6;
    const up = plyStiffness({ ...spruce, EL: spruce.EL * (1 + d) }, 0.4).re;
    const down = plyStiffness({ ...spruce, EL: spruce.EL * (1 - d) }, 0.4).re;
    const im = plyStiffness(onlyL, 0.4).im;
    for (let k = 0; k < 9; k++)
      expect(Math.abs((up[k] - down[k]) / (2 * d) - im[k])).toBeLessThan(1e-6 * spruce.EL);
  });

  it("a soft core makes a sandwich shear as its core does", () => {
    // faces much stiffer and thin: S -> G d2/c with d between the face centres (textbook sandwich)
    const face = { ...spruce, GLT: 1e12, GRT: 1e12 };
    const core = { ...spruce, EL: 1, ER: 1, nuLR: 0, GLR: 1 };
    const [c, f] = [0.01, 0.0001];
    const l = laminate([
      { material: core, angle: 0, bottom: -c / 2, top: c / 2 },
      { material: face, angle: 0, bottom: c / 2, top: c / 2 + f },
      { material: face, angle: 0, bottom: -c / 2 - f, top: -c / 2 },
    ]);
    expect(l.stiffness[54] / ((core.GLT * (c + f) ** 2) / c)).toBeCloseTo(1, 3);
  });

  it("a film on one face bends as a beam of two materials does (transformed section, textbook)", () => {
    const plate = { ...spruce, nuLR: 0 };
    const film = { ...spruce, EL: 2.5e9, ER: 2.5e9, nuLR: 0 };
    const [h, t] = [0.0028, 0.0001];
    const l = laminate([
      { material: plate, angle: 0, bottom: -h / 2, top: h / 2 },
      { material: film, angle: 0, bottom: h / 2, top: h / 2 + t },
    ]).stiffness;
    // bending across the grain, membrane free: D - B2/A
    const bending = l[36] - l[12] ** 2 / l[9];
    const n = film.ER / plate.ER;
    const neutral = (n * t * (h + t)) / 2 / (h + n * t);
    const section = h ** 3 / 12 + h * neutral ** 2 + n * (t ** 3 / 12 + t * ((h + t) / 2 - neutral) ** 2);
    expect(bending / (plate.ER * section)).toBeCloseTo(1, 9);
    expect(bending / ((plate.ER * h ** 3) / 12)).toBeGreaterThan(1.2);
  });
});
