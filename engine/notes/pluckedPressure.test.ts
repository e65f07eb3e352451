import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { coupledString } from "./coupledString.ts";
import { denseResponse, denseSystem, randomBody } from "./denseSystem.fixture.ts";
import { meanSquare } from "./meanSquare.ts";
import { pluckedPressure, type Tones } from "./pluckedPressure.ts";
import { reverberation } from "./reverberation.ts";
import { sampledReverberation } from "./sampledDecay.fixture.ts";

const string: StretchedString = {
  length: 0.648,
  linearDensity: 0.0036,
  tension: 73,
  bendingStiffness: 2e-4,
  loss: { friction: 3e-4, bending: 0.02, air: 0.3 },
};
const body = randomBody(5, 8, 90, 500);
const pluck = { fromCrown: 0.12, normal: 0.6, across: 0.8 };

/** S(lambda) = pressure per -lambda of the dense twin under the pluck's force. */
function densePressure(lambda: readonly [number, number]): readonly [number, number] {
  const partials = 60;
  const dense = denseSystem(string, body, partials);
  const force = new Float64Array(dense.n);
  const atPluck = (string.length - pluck.fromCrown) / string.length;
  for (let i = 0; i < 8; i++)
    force[i] = atPluck * (body.shape[3 * i]! * pluck.normal + body.shape[3 * i + 1]! * pluck.across);
  for (let k = 0; k < partials; k++) {
    const shape = Math.sin((k + 1) * Math.PI * atPluck);
    force[8 + 2 * k] = shape * pluck.normal;
    force[9 + 2 * k] = shape * pluck.across;
  }
  const [re, im] = denseResponse(dense, lambda, force);
  let [a, b] = [0, 0];
  for (let i = 0; i < 8; i++) {
    a += body.pressure[i]! * re[i]!;
    b += body.pressure[i]! * im[i]!;
  }
  return [a, b];
}

describe("pressure after a pluck", () => {
  it("has the residues of the dense system's response at its poles", () => {
    const modes = opened(coupledString(string, body, 420));
    const tones = pluckedPressure(modes, string, pluck);
    const loudest = Math.max(...Array.from(tones.re, (x, r) => Math.hypot(x, tones.im[r]!)));
    const lambda = Array.from(
      modes.omega,
      (w, r) => [w * w - modes.decay[r]! ** 2, 2 * w * modes.decay[r]!] as const,
    );
    for (const r of [0, 1, 4, modes.count - 1]) {
      const [x, y] = lambda[r]!;
      const radius =
        0.3 * Math.min(...lambda.filter((_, k) => k !== r).map((l) => Math.hypot(l[0] - x, l[1] - y)));
      let [sumRe, sumIm] = [0, 0];
      const points = 10;
      for (let k = 0; k < points; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / points;
        const [c, s] = [radius * Math.cos(angle), radius * Math.sin(angle)];
        const [a, b] = densePressure([x + c, y + s]);
        sumRe += (a * c - b * s) / points;
        sumIm += (a * s + b * c) / points;
      }
      // the twin stops at 60 partials, which costs 1e-4; p = -i w S and S = residue/(lambda - lambda_r): the tone's amplitude is the residue itself
      expect(Math.hypot(tones.re[r]! - sumRe, tones.im[r]! - sumIm) / loudest).toBeLessThan(3e-4);
    }
  });

  it("grows in proportion to the force and to the body's pressure", () => {
    const modes = opened(coupledString(string, body, 420));
    const one = pluckedPressure(modes, string, pluck);
    const louder = { ...body, pressure: body.pressure.map((p) => 3 * p) };
    const three = pluckedPressure(opened(coupledString(string, louder, 420)), string, {
      ...pluck,
      normal: 1.2,
      across: 1.6,
    });
    for (let r = 0; r < one.count; r++) expect(three.re[r]).toBeCloseTo(6 * one.re[r]!, 9);
  });
});

const tones: Tones = {
  count: 3,
  omega: Float64Array.of(700, 1400, 1403),
  decay: Float64Array.of(2, 5, 3),
  re: Float64Array.of(0.02, 0.01, -0.012),
  im: Float64Array.of(0.01, -0.02, 0.005),
};
const pressureAt = (t: number) => {
  let p = 0;
  for (let r = 0; r < tones.count; r++)
    p +=
      Math.exp(-tones.decay[r]! * t) *
      (tones.re[r]! * Math.cos(tones.omega[r]! * t) - tones.im[r]! * Math.sin(tones.omega[r]! * t));
  return p;
};

describe("what is read from damped tones", () => {
  it("mean square agrees with the sampled pressure", () => {
    const step = 1e-5;
    let sum = 0;
    for (let t = step / 2; t < 0.3; t += step) sum += pressureAt(t) ** 2 * step;
    expect(meanSquare(tones, 0.3, [1, 1, 1]).plain / (sum / 0.3)).toBeCloseTo(1, 6);
  });

  it("one tone falls by 60 dB in 6.9078/decay seconds, but for its own ripple", () => {
    const one: Tones = { ...tones, count: 1 };
    expect(reverberation(one, 1e4)! / (Math.log(1000) / 2)).toBeCloseTo(1, 2);
  });

  it("T60 of beating tones agrees with the backward integral of the sampled pressure", () => {
    const step = 5e-5;
    const sampled = Float64Array.from({ length: 6 / step }, (_, i) => pressureAt((i + 0.5) * step));
    expect(reverberation(tones, 1e4)! / sampledReverberation(sampled, step)).toBeCloseTo(1, 2);
  });

  it("tones above the limit do not count, and silence has no decay", () => {
    expect(reverberation(tones, 1000)! / (Math.log(1000) / 2)).toBeCloseTo(1, 2);
    expect(reverberation(tones, 100)).toBeNull();
    expect(meanSquare(tones, 0.3, [0, 0, 0])).toEqual({ plain: 0, weighted: 0 });
  });
});
