import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { coupledString } from "./coupledString.ts";
import { denseSystem, randomBody } from "./denseSystem.fixture.ts";
import { meanSquare } from "./meanSquare.ts";
import { pluckedPressure } from "./pluckedPressure.ts";
import { reverberation } from "./reverberation.ts";
import { sampledReverberation } from "./sampledDecay.fixture.ts";

const string: StretchedString = {
  length: 0.648,
  linearDensity: 0.0036,
  tension: 73,
  bendingStiffness: 2e-4,
  loss: { friction: 1.2e-2, bending: 1.2e-2, air: 0 },
};
const modes = 5;
const body = randomBody(8, modes, 90, 400);
const pluck = { fromCrown: 0.12, normal: Math.SQRT1_2, across: Math.SQRT1_2 };
const step = 4e-5;

/**
 * Pressure by stepping the dense twin through time (Newmark, average acceleration) from its static shape under the
 * pluck's force, losses made viscous at each coordinate's own frequency: no complex mode and no residue in it.
 */
function steppedPressure(duration: number): Float64Array {
  const partials = 16;
  const d = denseSystem(string, body, partials);
  const grid = (a: Float64Array) =>
    new Matrix(Array.from({ length: d.n }, (_, i) => Array.from(a.subarray(i * d.n, (i + 1) * d.n))));
  const k = grid(d.stiffnessRe);
  const m = grid(d.mass);
  const c = grid(d.stiffnessIm);
  for (let i = 0; i < d.n; i++) {
    const w = Math.sqrt(d.stiffnessRe[i * d.n + i]! / d.mass[i * d.n + i]!);
    for (let j = 0; j < d.n; j++) c.set(i, j, i === j ? c.get(i, i) / w : 0);
  }
  const at = (string.length - pluck.fromCrown) / string.length;
  const force = new Array<number>(d.n).fill(0);
  for (let i = 0; i < modes; i++)
    force[i] = at * (body.shape[3 * i]! * pluck.normal + body.shape[3 * i + 1]! * pluck.across);
  for (let p = 0; p < partials; p++) {
    force[modes + 2 * p] = Math.sin((p + 1) * Math.PI * at) * pluck.normal;
    force[modes + 2 * p + 1] = Math.sin((p + 1) * Math.PI * at) * pluck.across;
  }
  let x = inverse(k).mmul(Matrix.columnVector(force));
  let v = Matrix.zeros(d.n, 1);
  let a = inverse(m).mmul(k.mmul(x)).mul(-1);
  const solve = inverse(Matrix.add(m, Matrix.mul(c, step / 2)).add(Matrix.mul(k, (step * step) / 4)));
  const count = Math.round(duration / step);
  const pressure = new Float64Array(count);
  for (let s = 0; s < count; s++) {
    for (let i = 0; i < modes; i++) pressure[s] = pressure[s]! + body.pressure[i]! * a.get(i, 0);
    const xp = Matrix.add(x, Matrix.mul(v, step)).add(Matrix.mul(a, (step * step) / 4));
    const vp = Matrix.add(v, Matrix.mul(a, step / 2));
    a = solve.mmul(k.mmul(xp).add(c.mmul(vp))).mul(-1);
    x = xp.add(Matrix.mul(a, (step * step) / 4));
    v = vp.add(Matrix.mul(a, step / 2));
  }
  return pressure;
}

describe("a plucked note stepped through time", () => {
  const tones = pluckedPressure(opened(coupledString(string, body, 2000)), string, pluck);
  const stepped = steppedPressure(2.5);

  it("has the mean square pressure of the closed form over 0.3 s, to 0.1 dB", () => {
    const count = Math.round(0.3 / step);
    const sum = stepped.subarray(0, count).reduce((total, p) => total + p * p, 0) / count;
    const closed = meanSquare(tones, 0.3, new Array<number>(tones.count).fill(1)).plain;
    expect(Math.abs(10 * Math.log10(closed / sum))).toBeLessThan(0.1);
  });

  it("falls by 20 dB in the time that the closed form says, to 2 %", () => {
    expect(Math.abs(reverberation(tones, 1e5)! / sampledReverberation(stepped, step) - 1)).toBeLessThan(0.02);
  });
});
