import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { backPlate, boxBody, modalFlexibility, sixCrowns, topPlate } from "./body.fixture.ts";
import { coupleBody } from "./coupleBody.ts";
import { supportedPlateModes } from "./supportedPlate.fixture.ts";

const body = opened(coupleBody(boxBody(), quiet));
const named = (name: string, of = body) => of.name.indexOf(name as "main air");

describe("coupleBody", () => {
  it("finds main air, main top and main back of a guitar-sized box in the bands measured on guitars (CHRISTENSEN-1980)", () => {
    expect(body.frequency[named("main air")]).toBeGreaterThan(90);
    expect(body.frequency[named("main air")]).toBeLessThan(120);
    expect(body.frequency[named("main top")]).toBeGreaterThan(170);
    expect(body.frequency[named("main top")]).toBeLessThan(250);
    expect(named("main back")).toBeGreaterThan(named("main top"));
    expect(body.rigidWallAir!.low).toBeLessThan(body.rigidWallAir!.frequency);
    expect(body.rigidWallAir!.high).toBeGreaterThan(body.rigidWallAir!.frequency);
  });

  it("lists modes ascending, with positive Q, and shares that add up", () => {
    for (let i = 0; i < body.count; i++) {
      if (i) expect(body.frequency[i]).toBeGreaterThanOrEqual(body.frequency[i - 1]);
      expect(body.q[i]).toBeGreaterThan(1);
      const third = body.volumeVelocityShareByThird.subarray(3 * i, 3 * i + 3);
      expect(third.reduce((s, v) => s + Math.abs(v), 0)).toBeCloseTo(1, 12);
      expect(Math.max(...third)).toBe(Math.max(...third.map(Math.abs)));
      expect(body.lossShare.subarray(3 * i, 3 * i + 3).reduce((s, v) => s + v, 0)).toBeCloseTo(1, 12);
    }
  });

  it("lets the hole breathe against the plates below its own resonance and with them above", () => {
    expect(body.holeFlowRatio[named("main air")]).toBeLessThan(-1);
    expect(body.holeFlowRatio[named("main top")]).toBeGreaterThan(0);
  });

  it("gives no effective mass where the saddle does not move", () => {
    for (let i = 0; i < body.count; i++) {
      const mass = body.effectiveMass[i];
      if (mass === null) expect(Math.abs(body.saddleShape[i])).toBeLessThanOrEqual(0.01);
      else expect(mass).toBeCloseTo(1 / body.saddleShape[i] ** 2, 9);
    }
    expect(body.effectiveMass).toContain(null);
  });

  it("treats mirrored strings of a symmetric body alike", () => {
    const mirrored = sixCrowns.map((c) => ({ ...c, y: -c.y }));
    const other = opened(
      coupleBody(
        boxBody({ crowns: mirrored, bridgeFlexibility: modalFlexibility(topPlate, mirrored, 200) }),
        quiet,
      ),
    );
    for (let i = 0; i < body.count; i++) expect(other.frequency[i] / body.frequency[i]).toBeCloseTo(1, 12);
    const string1 = (b: typeof body, i: number) => b.crownShape[i * 18] ** 2;
    for (let i = 0; i < 10; i++)
      expect(Math.abs(string1(other, i) - string1(body, i))).toBeLessThan(0.01 * (1 + string1(body, i)));
  });

  it("raises main air with a smaller cavity and lowers it with a heavier hole", () => {
    const { cavity } = boxBody();
    const small = opened(coupleBody(boxBody({ cavity: { ...cavity, volume: 0.9 * cavity.volume } }), quiet));
    const hole = { ...cavity.hole, inertance: 1.1 * cavity.hole.inertance };
    const heavy = opened(coupleBody(boxBody({ cavity: { ...cavity, hole } }), quiet));
    const air = body.frequency[named("main air")];
    expect(small.frequency[named("main air", small)]).toBeGreaterThan(air);
    expect(heavy.frequency[named("main air", heavy)]).toBeLessThan(air);
  });

  it("moves the modes 2 to 5 % by the air outside (physics 1.6)", () => {
    const bare = opened(coupleBody(boxBody({ outsideAir: "none" }), quiet));
    const shift = bare.frequency[named("main top", bare)] / body.frequency[named("main top")] - 1;
    expect(shift).toBeGreaterThan(0.02);
    expect(shift).toBeLessThan(0.08);
  });

  it("stiffens bridge rocking by the strings' axial stiffness: sum(EA/L) h^2", () => {
    const stiffness = new Float64Array(6).fill(2e4);
    const tied = opened(coupleBody(boxBody({ stringStiffness: stiffness, rim: "held" }), quiet));
    const free = opened(coupleBody(boxBody({ rim: "held" }), quiet));
    // Static compliance to a pull of every string at once, along: 1/C grows by the sum of the springs.
    const along = (b: typeof body) => {
      let sum = 0;
      for (let c = 0; c < 6; c++) {
        for (let d = 0; d < 6; d++) {
          sum += b.residual[(3 * c + 2) * 18 + 3 * d + 2];
          for (let i = 0; i < b.count; i++) {
            sum +=
              (b.crownShape[i * 18 + 3 * c + 2] * b.crownShape[i * 18 + 3 * d + 2]) /
              (2 * Math.PI * b.frequency[i]) ** 2;
          }
        }
      }
      return sum / 36;
    };
    const gained = 1 / along(tied) - 1 / along(free);
    expect(gained / (6 * 2e4)).toBeGreaterThan(0.8);
    expect(gained / (6 * 2e4)).toBeLessThan(1.2);
  });

  it("leaves the rim at rest when equal plates breathe against each other, and shakes it when they move alike", () => {
    const top = supportedPlateModes(topPlate);
    const twin = opened(
      coupleBody(
        boxBody({ top, back: top, backSeat: { depth: 0.105, slope: 0 }, outsideAir: "none" }),
        quiet,
      ),
    );
    const n = top.nodeArea.length;
    // The supported edge moves with the rim alone.
    const corners = [0, 24, n - 25, n - 1];
    const rim = (i: number) => Math.max(...corners.map((k) => Math.abs(twin.topMotion[i * n + k])));
    const middle = Math.floor(n / 2);
    let [together, alike] = [0, 0];
    for (let i = 0; i < 8; i++) {
      const [a, b] = [twin.topMotion[i * n + middle], twin.backMotion[i * n + middle]];
      if (Math.abs(a) < 0.1) continue;
      if (Math.abs(a - b) < 1e-6 * Math.abs(a)) {
        together++;
        expect(rim(i)).toBeLessThan(1e-9 * Math.abs(a));
      } else {
        alike++;
        expect(rim(i)).toBeGreaterThan(1e-3 * Math.abs(a));
      }
    }
    expect(together).toBeGreaterThan(1);
    expect(alike).toBeGreaterThan(0);
  });

  it("says what is missing", () => {
    const reason = (change: Parameters<typeof boxBody>[0]) => {
      const o = coupleBody(boxBody(change), quiet);
      return o.ok ? "ok" : o.reason;
    };
    expect(reason({ crowns: [] })).toBe("crowns-missing");
    expect(reason({ bridgeFlexibility: new Float64Array(36) })).toBe("flexibility-size");
    expect(reason({ cavity: { ...boxBody().cavity, volume: 0 } })).toBe("cavity-volume");
    expect(reason({ crowns: sixCrowns.map((c) => ({ ...c, x: 0.6 })) })).toBe("crown-outside");
    const gaining = { ...boxBody().top, lossFactor: new Float64Array(16).fill(-0.01) };
    expect(reason({ top: gaining })).toBe("loss-negative");
    const stopped = coupleBody(boxBody(), { progress: () => {}, cancelled: () => true });
    expect(stopped.ok ? "ok" : stopped.reason).toBe("cancelled");
  });

  it("keeps a mode of the back out of the top's energy when the cavity is huge and nothing couples them", () => {
    const { cavity } = boxBody();
    const loose = opened(
      coupleBody(
        boxBody({
          rim: "held",
          outsideAir: "none",
          cavity: { ...cavity, volume: 1e3 },
          top: supportedPlateModes({ ...topPlate, count: 3 }),
          back: supportedPlateModes({ ...backPlate, count: 3 }),
          bridgeFlexibility: modalFlexibility(topPlate, sixCrowns, 40),
        }),
        quiet,
      ),
    );
    for (let i = 1; i < loose.count; i++) {
      const [top, back] = loose.energyShare.subarray(3 * i, 3 * i + 2);
      expect(Math.max(top, back)).toBeGreaterThan(0.999);
    }
  });
});
