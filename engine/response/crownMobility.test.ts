import { describe, expect, it } from "vitest";
import { opened, quiet, symmetricEigen } from "#engine/numerics";
import { boxBody, modalFlexibility, sixCrowns, topPlate } from "./body.fixture.ts";
import { coupleBody } from "./coupleBody.ts";
import { crownLever } from "./crownBasis.ts";
import { crownMobility, crownView } from "./crownMobility.ts";
import { forcedResponse } from "./forcedResponse.ts";

const body = opened(coupleBody(boxBody(), quiet));
const held = opened(coupleBody(boxBody({ rim: "held" }), quiet));

describe("crownMobility", () => {
  it("is reciprocal to 1e-9 and its real part takes energy, from 20 Hz to 5 kHz", () => {
    for (let f = 20; f < 5000; f *= 1.13) {
      const y = crownMobility(body, 2 * Math.PI * f);
      let [gap, size] = [0, 0];
      for (let d = 0; d < 18; d++) {
        for (let e = 0; e < 18; e++) {
          gap = Math.max(
            gap,
            Math.abs(y.re[d * 18 + e] - y.re[e * 18 + d]),
            Math.abs(y.im[d * 18 + e] - y.im[e * 18 + d]),
          );
          size = Math.max(size, Math.abs(y.re[d * 18 + e]), Math.abs(y.im[d * 18 + e]));
        }
      }
      expect(gap).toBeLessThan(1e-9 * size);
      const { values } = symmetricEigen(y.re, 18);
      expect(values[0]).toBeGreaterThan(-1e-12 * values[17]);
      for (let c = 0; c < 6; c++) {
        const block = new Float64Array(9).map(
          (_, k) => y.re[(3 * c + Math.floor(k / 3)) * 18 + 3 * c + (k % 3)],
        );
        expect(symmetricEigen(block, 3).values[0]).toBeGreaterThan(0);
      }
    }
  });

  it("ends at the static solution: with the rim held, Y/(i w) at 0.01 Hz is T C6 T' to 1e-7", () => {
    const w = 2 * Math.PI * 0.01;
    const y = crownMobility(held, w);
    const lever = crownLever(boxBody());
    const c6 = modalFlexibility(topPlate, sixCrowns, 200);
    for (let d = 0; d < 18; d++) {
      for (let e = 0; e < 18; e++) {
        let sum = 0;
        for (let a = 0; a < 36; a++) {
          for (let b = 0; b < 36; b++) sum += lever[d * 36 + a] * c6[a * 36 + b] * lever[e * 36 + b];
        }
        const scale = Math.sqrt(held.residual[d * 19] * held.residual[e * 19]) + Math.abs(sum);
        expect(Math.abs(y.im[d * 18 + e] / w - sum)).toBeLessThan(1e-7 * scale);
      }
    }
  });

  it("needs the residual: without it the static compliance along the string is far too small", () => {
    expect(held.residual[2 * 18 + 2]).toBeGreaterThan(0);
  });

  it("recoils as a free body below all modes: -i/(w m) in the mean", () => {
    const w = 2 * Math.PI * 0.5;
    const y = crownMobility(body, w);
    expect(y.im[0]).toBeLessThan(0);
    // Mass felt is less than the whole (2.0 kg with the plates) because the body also turns.
    const felt = -1 / (w * y.im[0]);
    expect(felt).toBeGreaterThan(0.2);
    expect(felt).toBeLessThan(2.2);
  });

  it("agrees with the full complex equations on the main modes within 6 % in magnitude", () => {
    for (const name of ["main air", "main top"] as const) {
      const w = 2 * Math.PI * body.frequency[body.name.indexOf(name)];
      const y = crownMobility(body, w);
      const full = opened(forcedResponse(boxBody(), 0, w)).mobility;
      const modal = Math.hypot(y.re[0], y.im[0] - w * body.residual[0]);
      expect(Math.abs(modal / Math.hypot(full.re[0], full.im[0]) - 1)).toBeLessThan(0.06);
    }
  });
});

describe("crownView", () => {
  it("is the diagonal block of the whole matrix, rigid motions first", () => {
    const w = 2 * Math.PI * 150;
    const y = crownMobility(body, w);
    const view = crownView(body, 3);
    expect(view.omega.slice(0, 6)).toEqual(new Float64Array(6));
    for (let d = 0; d < 3; d++) {
      for (let e = 0; e < 3; e++) {
        let [re, im] = [0, w * view.residual[3 * d + e]];
        for (let i = 0; i < view.omega.length; i++) {
          const a = view.omega[i] ** 2 - w * w;
          const b = view.omega[i] === 0 ? 0 : (w * view.omega[i]) / view.q[i];
          const s = (view.shape[3 * i + d] * view.shape[3 * i + e] * w) / (a * a + b * b);
          re += s * b;
          im += s * a;
        }
        expect(re).toBeCloseTo(y.re[(9 + d) * 18 + 9 + e], 12);
        expect(im).toBeCloseTo(y.im[(9 + d) * 18 + 9 + e], 12);
      }
    }
    expect(view.pressure[0]).toBe(0);
    expect(view.pressure[6]).toBe(body.pressurePerAcceleration[0]);
  });
});
