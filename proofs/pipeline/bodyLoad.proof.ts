import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { loadReport } from "#engine/pipeline";
import { proof, type Slips } from "#proofs/harness";
import { coarse, crew, fast } from "./coarseBody.ts";
import { openExample } from "./openExample.ts";

/** The load on an example; slips: pull of the strings (by their weight), height of the saddle. */
async function loaded(name: string, slip: Slips) {
  const { build, geometry, strings } = openExample(name);
  const pull = slip["pull"] ?? 1;
  const heavier = strings.map((s) => ({ ...s, tension: s.tension * pull }));
  return opened(await loadReport(build, geometry, heavier, coarse, crew, fast));
}

proof(
  "a cross-braced guitar under light steel strings: bridge turns by a degree or two, degrees; action rises, mm",
  {
    source:
      "COMMON-PRACTICE elastic turn at tuning 1 to 2 degrees, less on stiff tops; rise of action 0.3 to 0.8 mm",
    quoted: [1.25, 0.55],
    absTol: 0.75,
    because: "a rule of the trade, and a range",
    mustNotice: { pull: 3 },
  },
  async (slip) => {
    const { bridge, actionChangeM } = await loaded("cross-braced", slip);
    return [bridge.rotationDeg, 1e3 * Math.max(...actionChangeM)];
  },
);

describe("example A", () => {
  it("turned over twists its neck block the other way; its rods hold action back; dry air sinks it and damp lifts it", async () => {
    const { variants, climates, tunings, actionChangeM, stressPa } = await loaded("low-radial", {});
    const [own, bare, other] = variants;
    expect([own.name, bare.name, other.name]).toEqual([
      "as designed",
      "without its rods",
      "cutaway on the other side",
    ]);
    expect(Math.sign(other.neckTwistDeg)).toBe(-Math.sign(own.neckTwistDeg));
    expect(Math.abs(other.neckTwistDeg)).toBeGreaterThan(0.5 * Math.abs(own.neckTwistDeg));
    own.actionChangeM.forEach((rise, i) => {
      expect(bare.actionChangeM[i]).toBeGreaterThan(rise);
      expect(rise).toBe(actionChangeM[i]);
    });
    const [dry, damp] = climates;
    expect(dry.saddleRiseM).toBeLessThan(0);
    expect(damp.saddleRiseM).toBeGreaterThan(0);
    expect(Math.max(...dry.actionChangeM)).toBeLessThan(0);
    expect(Math.min(...damp.actionChangeM)).toBeGreaterThan(0);
    // both follow the change of moisture, one as the other
    const perMoisture = climates.map((c) => c.saddleRiseM / (c.moisture[1] - c.moisture[0]));
    expect(perMoisture[1] / perMoisture[0]).toBeCloseTo(1, 1);
    // slacker tunings turn the bridge less, in about the share of their pull
    const [first, second] = tunings;
    expect(second.bridgeRotationDeg / first.bridgeRotationDeg / (second.totalN / first.totalN)).toBeCloseTo(
      1,
      1,
    );
    // the top behind the bridge is bent most
    const plate = stressPa.sheets.find((s) => s.part === "top" && s.sheet === "plate");
    expect(plate?.along.tension.x).toBeLessThan(0.21);
    expect(plate?.along.tension.x).toBeGreaterThan(0.16);
  });
});
