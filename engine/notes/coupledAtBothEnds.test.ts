import { describe, expect, it } from "vitest";
import { opened, seededRandom } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";
import { coupledAtBothEnds, pluckedAtBothEnds } from "./coupledAtBothEnds.ts";
import { coupledString } from "./coupledString.ts";
import { randomBody } from "./denseSystem.fixture.ts";
import { pluckedPressure, type Tones } from "./pluckedPressure.ts";

const string: StretchedString = {
  length: 0.648,
  linearDensity: 0.0036,
  tension: 73,
  bendingStiffness: 2e-4,
  loss: { friction: 3e-4, bending: 0.02, air: 0.3 },
};
const body: BridgeModes = {
  ...randomBody(3, 60, 90, 1500),
  residual: Float64Array.of(1e-6, 2e-7, 0, 2e-7, 3e-6, 0, 0, 0, 0),
};
const count = body.omega.length;
const still = { shape: new Float64Array(2 * count) };
const random = seededRandom(7);
const moving = { shape: Float64Array.from({ length: 2 * count }, () => 2 * (random() - 0.5)) };
const pluck = { fromCrown: 0.12, normal: 0.6, across: 0.8 };

/** p at t. */
function pressure({ count: n, omega, decay, re, im }: Tones, t: number): number {
  let p = 0;
  for (let r = 0; r < n; r++)
    p += Math.exp(-decay[r]! * t) * (re[r]! * Math.cos(omega[r]! * t) - im[r]! * Math.sin(omega[r]! * t));
  return p;
}

describe("a string that the body carries at both ends", () => {
  it("is the string of one end where the far end stands still", () => {
    const one = opened(coupledString(string, body, 1000));
    const both = opened(coupledAtBothEnds(string, body, still, 1000));
    expect(both.count).toBe(one.count);
    for (let r = 0; r < one.count; r++) {
      expect(Math.abs(both.omega[r]! / one.omega[r]! - 1)).toBeLessThan(1e-7);
      expect(Math.abs(both.decay[r]! / one.decay[r]! - 1)).toBeLessThan(1e-4);
      expect([both.partial[r], both.modeIndex[r]]).toEqual([one.partial[r], one.modeIndex[r]]);
    }
    const a = pluckedPressure(one, string, pluck);
    const b = pluckedAtBothEnds(both, string, pluck);
    const loudest = Math.max(...a.re.map((v, r) => Math.hypot(v, a.im[r]!)));
    for (let r = 0; r < one.count; r++)
      expect(Math.hypot(a.re[r]! - b.re[r]!, a.im[r]! - b.im[r]!)).toBeLessThan(1e-5 * loudest);
  });

  it("loses energy in every mode, and has as many as string and body have apart", () => {
    const one = opened(coupledString(string, body, 1000));
    const both = opened(coupledAtBothEnds(string, body, moving, 1000));
    expect(both.count).toBe(one.count);
    expect(Math.min(...both.decay)).toBeGreaterThan(0);
    expect(both.decay.some((d, r) => d > 1.05 * one.decay[r]!)).toBe(true);
  });

  it("sounds the same from either end: crown and far end exchanged, the pluck as far from the other", () => {
    const swapped: BridgeModes = {
      ...body,
      residual: new Float64Array(9),
      shape: Float64Array.from({ length: 3 * count }, (_, k) =>
        k % 3 === 2 ? 0 : moving.shape[2 * Math.floor(k / 3) + (k % 3)]!,
      ),
    };
    const crown = {
      shape: Float64Array.from({ length: 2 * count }, (_, k) => body.shape[3 * (k >> 1) + (k & 1)]!),
    };
    const plain = { ...body, residual: new Float64Array(9) };
    const a = pluckedAtBothEnds(opened(coupledAtBothEnds(string, plain, moving, 1000)), string, pluck);
    const other = { ...pluck, fromCrown: string.length - pluck.fromCrown };
    const b = pluckedAtBothEnds(opened(coupledAtBothEnds(string, swapped, crown, 1000)), string, other);
    const most = Math.max(...[1, 2, 3, 4, 5].map((k) => Math.abs(pressure(a, 0.01 * k))));
    for (const t of [0.01, 0.043, 0.2])
      expect(Math.abs(pressure(a, t) - pressure(b, t))).toBeLessThan(1e-5 * most);
  });

  it("keeps partials that nothing meets, and names a far end of the wrong length", () => {
    const along: BridgeModes = {
      omega: Float64Array.of(900),
      q: Float64Array.of(30),
      shape: Float64Array.of(1, 0, 0),
      residual: new Float64Array(9),
      pressure: new Float64Array(1),
    };
    // both ends move alike: even partials do not feel it, nor does the other direction
    const both = opened(coupledAtBothEnds(string, along, { shape: Float64Array.of(1, 0) }, 800));
    expect(Array.from(both.partial, (n, r) => (both.root[r]! < 0 ? n : 0)).filter((n) => n > 0)).toEqual(
      Array.from(both.partial).filter((n, r, all) => n > 0 && (n % 2 === 0 || all.indexOf(n) !== r)),
    );
    expect(coupledAtBothEnds(string, along, still, 800)).toMatchObject({ ok: false, reason: "bad-body" });
  });
});
