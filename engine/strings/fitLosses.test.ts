import { describe, expect, it } from "vitest";
import { opened, seededRandom } from "#engine/numerics";
import { airDrag } from "./airDrag.ts";
import { fitLosses, type MeasuredDecay } from "./fitLosses.ts";
import { stringPartials } from "./partials.ts";

const string = { linearDensity: 0.006, tension: 110, bendingStiffness: 5e-4 };
const loss = { friction: 2e-4, bending: 0.01, air: 0.9 };

function decays(lossOf = loss, count = 20): MeasuredDecay[] {
  const { omega, lossFactor } = stringPartials({ ...string, length: 0.65, loss: lossOf }, count);
  return Array.from(omega, (w, i) => ({
    frequency: w / (2 * Math.PI),
    t60: (2 * Math.log(1000)) / (w * lossFactor[i]!),
  }));
}

describe("losses fitted to decays", () => {
  it("hold the truth in their ranges about as often as one sigma says, when the decays scatter", () => {
    let [inside, total] = [0, 0];
    for (let seed = 1; seed <= 60; seed++) {
      const random = seededRandom(seed);
      const scattered = decays().map((d) => {
        // sum of 12 uniform numbers: near enough normal
        const normal = Array.from({ length: 12 }, random).reduce((a, b) => a + b, -6);
        return { ...d, t60: d.t60 / (1 + 0.05 * normal), spread: 0.05 };
      });
      const { range } = opened(fitLosses(string, scattered));
      for (const name of ["friction", "bending", "air"] as const) {
        total++;
        if (range[name][0] <= loss[name] && loss[name] <= range[name][1]) inside++;
      }
    }
    expect(inside / total).toBeGreaterThan(0.58);
    expect(inside / total).toBeLessThan(0.85);
  });

  it("are never below 0, and then say how large they could be", () => {
    const fit = opened(
      fitLosses(
        string,
        decays({ friction: 0, bending: 0.01, air: 0.9 }).map((d, i) => ({
          ...d,
          t60: d.t60 * (i % 2 ? 1.02 : 0.99),
        })),
      ),
    );
    for (const value of Object.values(fit.loss)) expect(value).toBeGreaterThanOrEqual(0);
    expect(fit.range.friction[0]).toBe(0);
    expect(fit.range.friction[1]).toBeGreaterThan(0);
  });

  it("leave the air's drag alone where the air is known", () => {
    const air = { density: 1.2, viscosity: 1.8e-5 };
    const dragged = decays({ ...loss, air: 0 }).map(({ frequency, t60 }) => {
      const w = 2 * Math.PI * frequency;
      const root = Math.sqrt(
        string.tension ** 2 + 4 * string.bendingStiffness * string.linearDensity * w * w,
      );
      const held = (2 * string.tension) / (root + string.tension);
      const eta = (2 * Math.log(1000)) / (w * t60) + (held * airDrag(1e-3, frequency, air)) / (0.006 * w);
      return { frequency, t60: (2 * Math.log(1000)) / (w * eta) };
    });
    const fit = opened(fitLosses(string, dragged, { kind: "drag", diameter: 1e-3, air }));
    expect(fit.loss.friction / loss.friction).toBeCloseTo(1, 6);
    expect(fit.loss.bending / loss.bending).toBeCloseTo(1, 6);
    expect(fit.loss.air).toBe(fit.range.air[0]);
    expect(fit.misfit).toBeLessThan(1e-6);
  });

  it("tell a form that does not fit by its misfit, and widen the range for it", () => {
    const crooked = decays().map((d, i) => ({ ...d, t60: d.t60 * (i % 3 === 0 ? 1.8 : 0.7) }));
    const [good, bad] = [opened(fitLosses(string, decays())), opened(fitLosses(string, crooked))];
    expect(bad.misfit).toBeGreaterThan(2);
    const wide = ([low, high]: readonly [number, number]): number => high - low;
    expect(wide(bad.range.bending)).toBeGreaterThan(wide(good.range.bending));
  });

  it("are refused where there are too few decays or one is no time", () => {
    expect(fitLosses(string, decays(loss, 2))).toMatchObject({ reason: "too-few-decays" });
    expect(fitLosses(string, decays(loss, 2), { kind: "drag", diameter: 1e-3 }).ok).toBe(true);
    const [first, ...rest] = decays();
    expect(fitLosses(string, [{ ...first!, t60: 0 }, ...rest])).toMatchObject({ reason: "bad-decay" });
  });
});
