import { expect, it } from "vitest";
import { withFootprint } from "./footprint.ts";
import { laminate } from "./laminate.ts";

const even = { L: 0.01, R: 0.01, LR: 0.01, transverse: 0.01 };
const wood = { density: 400, EL: 11e9, ER: 0.85e9, nuLR: 0.37, GLR: 0.7e9, GLT: 0.66e9, GRT: 0.04e9 };
const strip = {
  angle: 0.7,
  depth: 0.004,
  ET: 0.6e9,
  lossT: 0.01,
  side: "inside",
  plateThickness: 0.003,
  growth: 0,
} as const;
const plate = (loss: typeof even) =>
  laminate([{ material: { ...wood, loss }, angle: 0.3, bottom: -0.0015, top: 0.0015 }]);

it("loses the same share in every term where every modulus has the same loss factor", () => {
  const l = withFootprint(plate(even), 0.4, strip);
  const scale = Math.max(...l.stiffness);
  for (let k = 0; k < 64; k++)
    expect(Math.abs(l.loss[k] - 0.01 * l.stiffness[k])).toBeLessThan(1e-12 * scale);
});

it("stays symmetric with unlike loss factors", () => {
  const l = withFootprint(plate({ L: 0.006, R: 0.02, LR: 0.015, transverse: 0.03 }), 0.4, strip);
  for (let i = 0; i < 8; i++) {
    for (let j = 0; j < i; j++) {
      expect(Math.abs(l.stiffness[8 * i + j] - l.stiffness[8 * j + i])).toBeLessThan(1e-9 * l.stiffness[0]);
      expect(Math.abs(l.loss[8 * i + j] - l.loss[8 * j + i])).toBeLessThan(1e-9 * l.stiffness[0]);
    }
  }
});
