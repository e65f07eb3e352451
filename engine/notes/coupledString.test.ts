import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { type StretchedString, stringPartials } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";
import { coupledString } from "./coupledString.ts";
import { randomBody } from "./denseSystem.fixture.ts";

const string: StretchedString = {
  length: 0.648,
  linearDensity: 0.0036,
  tension: 73,
  bendingStiffness: 2e-4,
  loss: { friction: 3e-4, bending: 0.02, air: 0.3 },
};
const body = randomBody(3, 40, 90, 900);
const turned = (b: BridgeModes, angle: number): BridgeModes => {
  const shape = b.shape.slice();
  for (let i = 0; i < b.omega.length; i++) {
    const [x, y] = [b.shape[3 * i]!, b.shape[3 * i + 1]!];
    shape[3 * i] = x * Math.cos(angle) - y * Math.sin(angle);
    shape[3 * i + 1] = x * Math.sin(angle) + y * Math.cos(angle);
  }
  return { ...b, shape };
};

describe("a string coupled to a body", () => {
  it("has as many modes as string and body have apart", () => {
    const modes = opened(coupledString(string, body, 800));
    const own = stringPartials(string, 60).omega.filter((w) => w < 2 * Math.PI * 800).length;
    const bodies = body.omega.filter((w) => w < 2 * Math.PI * 800).length;
    expect(modes.count).toBe(2 * own + bodies);
    expect(Math.min(...modes.decay)).toBeGreaterThan(0);
  });

  it("does not care how the directions across the string are named", () => {
    const a = opened(coupledString(string, body, 800));
    const b = opened(coupledString(string, turned(body, 0.7), 800));
    for (let r = 0; r < a.count; r++) {
      expect(Math.abs(b.omega[r]! / a.omega[r]! - 1)).toBeLessThan(1e-10);
      expect(Math.abs(b.decay[r]! / a.decay[r]! - 1)).toBeLessThan(1e-7);
    }
  });

  it("keeps the string's own partials in a direction that nothing moves, and body modes that only move along it", () => {
    const flat: BridgeModes = {
      omega: Float64Array.of(900, 1500),
      q: Float64Array.of(30, 50),
      shape: Float64Array.of(1, 0, 0, 0, 0, 2),
      residual: new Float64Array(9),
      pressure: new Float64Array(2),
    };
    const modes = opened(coupledString(string, flat, 800));
    const own = stringPartials(string, 5);
    const still = Array.from({ length: modes.count }, (_, r) => r).filter(
      (r) => modes.motion[4 * r] === 0 && modes.motion[4 * r + 2] === 0,
    );
    const first = still.find((r) => modes.partial[r] === 1)!;
    expect(modes.omega[first]! / own.omega[0]!).toBeCloseTo(1, 6);
    expect((2 * modes.decay[first]!) / modes.omega[first]!).toBeCloseTo(own.lossFactor[0]!, 9);
    expect(still.filter((r) => modes.modeIndex[r] === 1)).toHaveLength(1);
  });

  it("is lowered by a springy bridge as by the length that the spring is worth", () => {
    // static end compliance C in both directions: L grows by C T
    const compliance = 5e-6;
    const residual = Float64Array.of(compliance, 0, 0, 0, compliance, 0, 0, 0, 0);
    const spring: BridgeModes = {
      omega: new Float64Array(0),
      q: new Float64Array(0),
      shape: new Float64Array(0),
      residual,
      pressure: new Float64Array(0),
    };
    const plain = { ...string, bendingStiffness: 0 };
    const modes = opened(coupledString(plain, spring, 400));
    const own = stringPartials(plain, 1).omega[0]!;
    const longer = string.length / (string.length + compliance * string.tension);
    expect(modes.omega[0]! / own).toBeCloseTo(longer, 6);
    expect(modes.omega[1]! / own).toBeCloseTo(longer, 6);
  });

  it("is raised by a free mass at its end as a pendulum's thread is", () => {
    // rigid motion of mass M, omega 0: tan(kL) = -(mu/M)/k -> shift of m/(M pi^2) for the fundamental
    const mass = 2;
    const free: BridgeModes = {
      omega: Float64Array.of(0, 0),
      q: Float64Array.of(0, 0),
      shape: Float64Array.of(1 / Math.sqrt(mass), 0, 0, 0, 1 / Math.sqrt(mass), 0),
      residual: new Float64Array(9),
      pressure: new Float64Array(2),
    };
    const plain = { ...string, bendingStiffness: 0 };
    const modes = opened(coupledString(plain, free, 400));
    const shift = modes.omega[0]! / stringPartials(plain, 1).omega[0]! - 1;
    expect(shift / ((string.linearDensity * string.length) / (mass * Math.PI ** 2))).toBeCloseTo(1, 2);
  });

  it("says which number of the body is wrong", () => {
    const bad = { ...body, q: body.q.map((q, i) => (i === 4 ? -1 : q)) };
    const answer = coupledString(string, bad, 800);
    expect(answer).toMatchObject({ ok: false, reason: "bad-body", detail: expect.stringContaining("q[4]") });
    expect(coupledString(string, { ...body, pressure: new Float64Array(3) }, 800).ok).toBe(false);
  });
});
