import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { coupleStructure } from "./coupleStructure.ts";
import { poleMobility } from "./crownMobility.ts";
import { upperThirdShare } from "./upperThirdShare.ts";
import { wholeBox } from "./wholeBox.fixture.ts";

const body = opened(coupleStructure(wholeBox({ top: { count: 10 }, back: { count: 6 } }), quiet));
const found = upperThirdShare(body);

describe("upperThirdShare", () => {
  it("agrees with brute-force integration over a fine grid of frequencies", () => {
    const r = body.rigidCount;
    const m = r + body.count;
    let [upper, whole] = [0, 0];
    const steps = 6000;
    const re = new Float64Array(m);
    const im = new Float64Array(m);
    for (let k = 0; k < steps; k++) {
      const w = 2 * Math.PI * (80 + (920 * (k + 0.5)) / steps);
      for (const c of [0, 1, 2, 3, 4, 5]) {
        for (let i = 0; i < m; i++) {
          const [hr, hi] =
            i < r ? [0, -1 / w] : poleMobility(2 * Math.PI * body.frequency[i - r], body.q[i - r], w);
          const s = i < r ? body.rigidCrownShape[i * 18 + 3 * c] : body.crownShape[(i - r) * 18 + 3 * c];
          re[i] = s * hr;
          im[i] = s * hi;
        }
        for (let third = 0; third < 3; third++) {
          let sum = 0;
          for (let i = 0; i < m; i += 1) {
            for (let j = 0; j <= i; j++) {
              sum +=
                (i === j ? 1 : 2) *
                body.motionByThird[(third * m + i) * m + j] *
                (re[i] * re[j] + im[i] * im[j]);
            }
          }
          if (third === 0) upper += sum;
          whole += sum;
        }
      }
    }
    expect(found.total / (upper / whole)).toBeCloseTo(1, 4);
  });

  it("lies between 0 and 1 in every third octave from 80 Hz to 1 kHz", () => {
    expect(found.byThirdOctave.map((b) => b.centreHz)).toEqual([
      80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000,
    ]);
    for (const { share } of found.byThirdOctave) {
      expect(share).toBeGreaterThan(0);
      expect(share).toBeLessThan(1);
    }
  });

  it("falls when the upper third's motion is taken away", () => {
    const m = body.rigidCount + body.count;
    const still = body.motionByThird.slice();
    for (let k = 0; k < m * m; k++) still[k] *= 0.25;
    expect(upperThirdShare({ ...body, motionByThird: still }).total).toBeLessThan(found.total);
  });
});
