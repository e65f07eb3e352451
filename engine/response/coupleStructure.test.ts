import { describe, expect, it } from "vitest";
import { opened, quiet, symmetricEigen } from "#engine/numerics";
import { inCoordinates } from "./coupledStructure.ts";
import { coupleStructure, solveCoupling } from "./coupleStructure.ts";
import { crownMobility, crownView } from "./crownMobility.ts";
import { forcedStructure } from "./forcedStructure.ts";
import { prepareCoupling } from "./prepareCoupling.ts";
import { responseCurve } from "./responseCurve.ts";
import { boxCrowns, wholeBox } from "./wholeBox.fixture.ts";

const parts = wholeBox();
const body = opened(coupleStructure(parts, quiet));
const named = (name: string, of = body) => of.name.indexOf(name as "main air");
const turn = 2 * Math.PI;

describe("coupleStructure", () => {
  it("finds main air, main top and main back of a guitar-sized box in the bands measured on guitars (CHRISTENSEN-1980)", () => {
    expect(body.frequency[named("main air")]).toBeGreaterThan(90);
    expect(body.frequency[named("main air")]).toBeLessThan(120);
    expect(body.frequency[named("main top")]).toBeGreaterThan(170);
    expect(body.frequency[named("main top")]).toBeLessThan(250);
    expect(named("main back")).toBeGreaterThan(named("main top"));
    expect(body.rigidWallAir!.low).toBeLessThan(body.rigidWallAir!.frequency);
    expect(body.rigidWallAir!.high).toBeGreaterThan(body.rigidWallAir!.frequency);
  });

  it("names the cavity's own lengthwise mode, near c/2L of a closed box", () => {
    const i = named("cavity, lengthwise");
    expect(body.frequency[i] / (parts.air.soundSpeed / (2 * 0.48))).toBeGreaterThan(0.9);
    expect(body.frequency[i] / (parts.air.soundSpeed / (2 * 0.48))).toBeLessThan(1.15);
  });

  it("lists modes ascending, with positive Q, and shares that add up", () => {
    for (let i = 0; i < body.count; i++) {
      if (i) expect(body.frequency[i]).toBeGreaterThanOrEqual(body.frequency[i - 1]);
      expect(body.q[i]).toBeGreaterThan(1);
      expect(body.lossShare.subarray(3 * i, 3 * i + 3).reduce((s, v) => s + v, 0)).toBeCloseTo(1, 12);
    }
    for (let i = 0; i < 20; i++) {
      const third = body.volumeVelocityShareByThird.subarray(3 * i, 3 * i + 3);
      expect(third.reduce((s, v) => s + Math.abs(v), 0)).toBeCloseTo(1, 12);
      expect(Math.max(...third)).toBe(Math.max(...third.map(Math.abs)));
    }
  });

  it("lets the hole breathe against the plates below its own resonance and with them above", () => {
    expect(body.holeFlowRatio[named("main air")]).toBeLessThan(-1);
    expect(body.holeFlowRatio[named("main top")]).toBeGreaterThan(0);
  });

  it("raises main air with a smaller cavity and lowers it with a heavier hole", () => {
    const small = opened(coupleStructure(wholeBox({ volume: 0.9 * 0.48 * 0.36 * 0.1 }), quiet));
    const heavy = opened(coupleStructure(wholeBox({ inertance: 8 }), quiet));
    const air = body.frequency[named("main air")];
    expect(small.frequency[named("main air", small)]).toBeGreaterThan(air);
    expect(heavy.frequency[named("main air", heavy)]).toBeLessThan(air);
  });

  it("stiffens bridge rocking by the strings' axial stiffness: sum(EA/L) h^2", () => {
    const tied = opened(coupleStructure(wholeBox({ strings: 2e4, rim: "held" }), quiet));
    const free = opened(coupleStructure(wholeBox({ rim: "held" }), quiet));
    const along = (b: typeof body) => {
      const y = crownMobility(b, turn * 0.01);
      let sum = 0;
      for (let c = 0; c < 6; c++)
        for (let d = 0; d < 6; d++) sum += y.im[(3 * c + 2) * 18 + 3 * d + 2] / (turn * 0.01);
      return sum / 36;
    };
    const gained = 1 / along(tied) - 1 / along(free);
    expect(gained / (6 * 2e4)).toBeGreaterThan(0.8);
    expect(gained / (6 * 2e4)).toBeLessThan(1.2);
  });

  it("gives no effective mass where the saddle does not move", () => {
    expect(body.effectiveMass).toContain(null);
    const i = named("main top");
    expect(body.effectiveMass[i]).toBeCloseTo(
      1 / (body.saddleShape[i] ** 2 + body.imaginary.saddle[i] ** 2),
      9,
    );
  });

  it("says what is missing", () => {
    const reason = (change: Partial<typeof parts>) => {
      const o = coupleStructure({ ...parts, ...change }, quiet);
      return o.ok ? "ok" : o.reason;
    };
    expect(reason({ crowns: [] })).toBe("crowns-missing");
    expect(reason({ crowns: [...boxCrowns, ...boxCrowns, ...boxCrowns] })).toBe("points-missing");
    expect(reason({ cavity: { ...parts.cavity!, volume: new Float64Array(12) } })).toBe("cavity-volume");
    expect(reason({ cavity: { ...parts.cavity!, wall: new Float64Array(3) } })).toBe("table-size");
    expect(reason({ crowns: boxCrowns.map((c) => ({ ...c, x: 0.6 })) })).toBe("crown-outside");
    const gaining = { ...parts.body, loss: parts.body.loss.map((v) => -v) };
    expect(reason({ body: gaining })).toBe("loss-negative");
    const stopped = coupleStructure(parts, { progress: () => {}, cancelled: () => true });
    expect(stopped.ok ? "ok" : stopped.reason).toBe("cancelled");
  });

  it("couples a body without air inside, and one with a closed box", () => {
    const bare = opened(coupleStructure({ ...parts, cavity: null, outside: null }, quiet));
    expect(bare.rigidWallAir).toBeNull();
    expect(named("main air", bare)).toBe(-1);
    expect(bare.count).toBe(48);
    const p = parts.body.rigidCount + parts.body.count;
    const residual = new Float64Array(p * p);
    for (let i = 0; i < p; i++)
      residual.set(parts.cavity!.residual.subarray(i * (p + 1), i * (p + 1) + p), i * p);
    const shut = { ...parts.cavity!, residual, aperture: null };
    const closed = opened(coupleStructure({ ...parts, cavity: shut, outside: null }, quiet));
    // A closed spring of air raises the main top.
    expect(closed.frequency[named("main top", closed)]).toBeGreaterThan(
      bare.frequency[named("main top", bare)],
    );
    // A rigid motion that pumps the closed box: structure and cavity do not fit each other.
    const wall = shut.wall.map((v, k) => (k === 0 ? 0.05 : v));
    const misfit = coupleStructure({ ...parts, cavity: { ...shut, wall }, outside: null }, quiet);
    expect(misfit.ok ? "ok" : misfit.reason).toBe("rigid-motion-held");
  });

  it("gives the same body in other coordinates", () => {
    const coupling = opened(prepareCoupling(parts));
    const { n } = coupling.system;
    const t = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      t[i * n + i] = 1 + 0.1 * Math.sin(i);
      if (i > 0) t[i * n + i - 1] = 0.3;
    }
    const other = opened(
      solveCoupling(parts, { ...coupling, system: inCoordinates(coupling.system, t) }, quiet),
    );
    for (let i = 0; i < 20; i++) {
      expect(other.frequency[i] / body.frequency[i]).toBeCloseTo(1, 8);
      expect(other.q[i] / body.q[i]).toBeCloseTo(1, 6);
    }
    const [a, b] = [crownMobility(other, turn * 150), crownMobility(body, turn * 150)];
    for (let d = 0; d < 324; d += 19) expect(a.re[d] / b.re[d]).toBeCloseTo(1, 6);
  });
});

describe("the mobility of the coupled structure", () => {
  it("is reciprocal to 1e-9 and its real part takes energy, from 20 Hz to 5 kHz", () => {
    for (let f = 20; f < 5000; f *= 1.17) {
      const y = crownMobility(body, turn * f);
      let [gap, size] = [0, 0];
      for (let d = 0; d < 18; d++) {
        for (let e = 0; e < 18; e++) {
          const both = (a: Float64Array) => Math.abs(a[d * 18 + e] - a[e * 18 + d]);
          gap = Math.max(gap, both(y.re), both(y.im));
          size = Math.max(size, Math.hypot(y.re[d * 18 + e], y.im[d * 18 + e]));
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

  it("agrees with the full equations: size within 2 % on and off resonance, real part within a sixth, to 650 Hz", () => {
    // Not where size or real part nearly vanish (antiresonances at 66, 128, 440 Hz).
    for (const f of [50, 85, 104, 150, 200, 220, 235, 250, 265, 280, 340, 385, 500, 600, 650]) {
      const y = crownMobility(body, turn * f);
      const full = opened(forcedStructure(parts, 0, turn * f)).mobility;
      const size = Math.hypot(y.re[0], y.im[0] - turn * f * body.residual[0]);
      expect(Math.abs(size / Math.hypot(full.re[0], full.im[0]) - 1)).toBeLessThan(0.02);
      expect(Math.abs(y.re[0] / full.re[0] - 1)).toBeLessThan(1 / 6);
    }
  });

  it("needs its imaginary shapes: real ones are wrong by more than half between main top and main back", () => {
    const crown = new Float64Array(body.crownShape.length);
    const real = { ...body, imaginary: { ...body.imaginary, crown } };
    const full = opened(forcedStructure(parts, 0, turn * 250)).mobility;
    expect(crownMobility(real, turn * 250).re[0] / full.re[0]).toBeGreaterThan(1.5);
  });

  it("is what one string sees: rigid motions first, poles omega^2 (1 + i/q), shapes squared without conjugates", () => {
    const w = turn * 150;
    const y = crownMobility(body, w);
    const view = crownView(body, 3);
    expect(view.omega.slice(0, 6)).toEqual(new Float64Array(6));
    for (let d = 0; d < 3; d++) {
      for (let e = 0; e < 3; e++) {
        let [re, im] = [0, w * view.residual[3 * d + e]];
        for (let i = 0; i < view.omega.length; i++) {
          const a = view.omega[i] ** 2 - w * w;
          const b = view.omega[i] === 0 ? 0 : view.omega[i] ** 2 / view.q[i];
          const [p, q, r, s] = [
            view.shape[3 * i + d],
            view.shapeIm[3 * i + d],
            view.shape[3 * i + e],
            view.shapeIm[3 * i + e],
          ];
          const [sr, si] = [p * r - q * s, p * s + q * r];
          const f = w / (a * a + b * b);
          re += f * (sr * b - si * a);
          im += f * (sr * a + si * b);
        }
        expect(re).toBeCloseTo(y.re[(9 + d) * 18 + 9 + e], 12);
        expect(im).toBeCloseTo(y.im[(9 + d) * 18 + 9 + e], 12);
      }
    }
  });

  it("hears a small source as rho/4 pi r times the acceleration of the net flow", () => {
    const f = 120;
    const curve = responseCurve(body, Float64Array.of(f));
    const normals = [0, 1, 2, 3, 4, 5].map((c) => opened(forcedStructure(parts, 3 * c, turn * f)));
    // A newton on the saddle's middle is near enough one on the two middle crowns.
    const net = (k: "re" | "im") =>
      [2, 3].reduce((sum, c) => sum + normals[c].flow[k].reduce((a, b) => a + b, 0) / 2, 0);
    const heard = (parts.air.density * turn * f * Math.hypot(net("re"), net("im"))) / (4 * Math.PI);
    expect(curve.pressure[0] / heard).toBeCloseTo(1, 1);
  });
});
