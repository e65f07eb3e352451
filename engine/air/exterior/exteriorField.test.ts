import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { exteriorAt } from "./exteriorAt.ts";
import { exteriorField } from "./exteriorField.ts";
import { exteriorFrequencies } from "./exteriorFrequencies.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { sphere } from "./sphere.fixture.ts";

const air = { density: 1.2, soundSpeed: 343 };
const surface = sphere(3, 0.25);
const g = panelGeometry(surface);
// Everything, to and fro, one patch, another patch.
const patterns = new Float64Array(4 * g.panels);
for (let t = 0; t < g.panels; t++) {
  patterns[t] = 1;
  patterns[g.panels + t] = g.centre[3 * t + 2] / 0.25;
  patterns[2 * g.panels + t] = t < 5 ? 1 : 0;
  patterns[3 * g.panels + t] = t > 40 && t < 47 ? 1 : 0;
}
const listeners = Float64Array.of(0.6, 0.1, 0.3, -0.2, 0.8, 0.5);
const at = (frequencies: Float64Array) =>
  opened(exteriorField(surface, patterns, { frequencies, listeners, ...air }, quiet));

describe("exteriorField", () => {
  // Up to here the plain equation holds alone, so that all is smooth.
  const few = at(exteriorFrequencies(8, 430));

  it("is the same in between, interpolated from 8 frequencies or solved outright, from 5 Hz to the top", () => {
    const between = Float64Array.of(5, 60, 111, 222, 333, 429);
    const right = at(between);
    between.forEach((hertz, f) => {
      const omega = 2 * Math.PI * hertz;
      const ours = exteriorAt(few, omega);
      const size = 16;
      const z = { re: 0, im: 0, gapRe: 0, gapIm: 0 };
      for (let i = 0; i < size; i++) {
        const re = omega ** 2 * right.resistance[f * size + i];
        const im = omega * right.mass[f * size + i];
        z.re = Math.max(z.re, Math.abs(re));
        z.im = Math.max(z.im, Math.abs(im));
        z.gapRe = Math.max(z.gapRe, Math.abs(ours.impedanceRe[i] - re));
        z.gapIm = Math.max(z.gapIm, Math.abs(ours.impedanceIm[i] - im));
      }
      expect(z.gapRe / z.re).toBeLessThan(1e-3);
      expect(z.gapIm / z.im).toBeLessThan(1e-3);
      for (let l = 0; l < 2; l++) {
        for (let i = 0; i < 4; i++) {
          const e = f * 8 + l * 4 + i;
          // Times i omega exp(-ik travel).
          const phase = (omega * right.travel[l]) / air.soundSpeed;
          const [c, s] = [Math.cos(phase), Math.sin(phase)];
          const re = omega * (right.pressureRe[e] * s - right.pressureIm[e] * c);
          const im = omega * (right.pressureRe[e] * c + right.pressureIm[e] * s);
          const gap = Math.hypot(ours.pressureRe[4 * l + i] - re, ours.pressureIm[4 * l + i] - im);
          expect(gap / Math.hypot(re, im)).toBeLessThan(2e-3);
        }
      }
    });
  });

  it("comes nearer with more frequencies", () => {
    const right = at(Float64Array.of(300));
    const gap = (count: number) => {
      const ours = exteriorAt(at(exteriorFrequencies(count, 430)), 600 * Math.PI);
      return Math.abs(ours.impedanceIm[0] / (600 * Math.PI * right.mass[0]) - 1);
    };
    expect(gap(7)).toBeLessThan(0.2 * gap(4));
  });

  it("never radiates less than nothing, solved or interpolated", () => {
    for (const hertz of [3, 40, 150, 300, 425]) {
      const { impedanceRe } = exteriorAt(few, 2 * Math.PI * hertz);
      const most = Math.max(...impedanceRe.map(Math.abs));
      for (let k = 0; k < 200; k++) {
        const x = [0, 1, 2, 3].map((i) => Math.sin(1 + 7.3 * k + 2.1 * i * (k + 1)));
        let power = 0;
        for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) power += x[i] * x[j] * impedanceRe[4 * i + j];
        expect(power).toBeGreaterThan(-1e-5 * most);
      }
    }
  });

  it("sends to infinity the power that the surface puts in, and answers i at j as j at i", () => {
    expect(Math.max(...few.checks.powerMismatch)).toBeLessThan(0.03);
    expect(Math.max(...few.checks.asymmetry)).toBeLessThan(0.02);
  });

  it("reaches farther points by 1/r: pressure at 4 m is half that at 2 m, later by 2 m", () => {
    const far = opened(
      exteriorField(
        surface,
        patterns.slice(0, g.panels),
        {
          frequencies: Float64Array.of(200),
          listeners: Float64Array.of(0, 0, 2, 0, 0, 4),
          ...air,
        },
        quiet,
      ),
    );
    expect(far.pressureRe[0] / far.pressureRe[1]).toBeCloseTo(2, 3);
    expect(far.pressureIm[0] / far.pressureIm[1]).toBeCloseTo(2, 3);
  });

  it("hears of cancelling, and refuses what makes no patterns or no ascending frequencies", () => {
    const ask = (p: Float64Array, f: Float64Array, cancelled = false) =>
      exteriorField(
        surface,
        p,
        { frequencies: f, listeners, ...air },
        { progress: () => {}, cancelled: () => cancelled },
      );
    expect(ask(patterns, Float64Array.of(100), true)).toMatchObject({ ok: false, reason: "cancelled" });
    expect(ask(patterns.slice(1), Float64Array.of(100))).toMatchObject({ ok: false, reason: "patterns" });
    expect(ask(patterns, Float64Array.of(200, 100))).toMatchObject({ ok: false, reason: "frequencies" });
  });

  it("warns where the panels are too long for the waves", () => {
    const ask = (hertz: number) =>
      exteriorField(surface, patterns, { frequencies: Float64Array.of(hertz), listeners, ...air }, quiet);
    expect(ask(100)).toMatchObject({ warnings: [] });
    expect(ask(900)).toMatchObject({ warnings: [{ code: "coarse-panels" }] });
  });
});
