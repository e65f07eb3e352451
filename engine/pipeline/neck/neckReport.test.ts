import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry } from "../geometry.ts";
import { stringSet } from "../stringSet.ts";
import { type NeckReport, neckReport } from "./neckReport.ts";

type Json = Record<string, unknown>;

function reportOf(
  name: string,
  change: (document: Json) => void = () => {},
  wholeElastic: number | null = null,
): NeckReport {
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const document = JSON.parse(text) as Json;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  return opened(
    neckReport(build, opened(instrumentGeometry(build, plan)), opened(stringSet(build)), wholeElastic),
  );
}

const inNeck =
  (change: (neck: Json) => void) =>
  (document: Json): void =>
    change(document["neck"] as Json);
const rodsOf = (neck: Json): Json[] => neck["rods"] as Json[];
const verdict = (report: NeckReport, id: string) => report.verdicts.find((v) => v.id === id);

const low = reportOf("low-radial");

describe("relief", () => {
  it("under light steel strings is a few tenths of a millimetre with the rod slack (common practice, no source)", () => {
    for (const name of ["low-radial", "cross-braced", "small-ladder"]) {
      const { relief, load } = reportOf(name);
      expect(relief.slackM).toBeGreaterThan(1.5e-4);
      expect(relief.slackM).toBeLessThan(6e-4);
      expect(load.secondOrderShare).toBeGreaterThan(0.02);
      expect(load.secondOrderShare).toBeLessThan(0.1);
    }
  });

  it("is taken back by the rod: the force for the relief wanted gives it when it is stated", () => {
    const { wantedForceN, wantedM, leastM, mostM, slackM } = low.relief;
    expect(leastM).toBeLessThan(slackM);
    expect(mostM).toBeGreaterThan(slackM);
    const set = reportOf(
      "low-radial",
      inNeck((neck) => {
        rodsOf(neck)[0]!["tension"] = `${wantedForceN} N`;
      }),
    );
    expect(set.relief.statedM).toBeCloseTo(wantedM, 8);
    expect(verdict(set, "neck-relief")!.level).toBe("good");
  });

  it("grows without the carbon bars, and with a heavier set", () => {
    expect(low.relief.withoutBarsM!).toBeGreaterThan(1.05 * low.relief.slackM);
    expect(reportOf("cross-braced").relief.withoutBarsM).toBeNull();
    const tuned = reportOf("low-radial", (d) => {
      (d["strings"] as Json)["tuningReference"] = "466.16 Hz";
    });
    expect(tuned.relief.slackM / low.relief.slackM).toBeGreaterThan(1.1);
  });

  it("goes with the pull of each tuning, the rod left as it is", () => {
    expect(low.tunings[0]!.reliefM).toBeCloseTo(low.relief.statedM!, 12);
    for (const { totalN, reliefM } of low.tunings.slice(1))
      expect(Math.sign(reliefM - low.tunings[0]!.reliefM)).toBe(Math.sign(totalN - low.tunings[0]!.totalN));
  });

  it("cannot be set without an adjustable rod, nor by one bar that lies on the neck's elastic centre", () => {
    const ladder = reportOf("small-ladder");
    expect(ladder.relief).toMatchObject({ wantedForceN: null, workingForceN: null });
    expect(ladder.relief.leastM).toBe(ladder.relief.mostM);
    expect(verdict(ladder, "rod-force")).toBeUndefined();
    const flush = (depth: string) =>
      reportOf(
        "cross-braced",
        inNeck((neck) => {
          neck["rods"] = [
            { kind: "adjustable", width: "5 mm", height: "5 mm", length: "420 mm", axisDepth: depth },
          ];
        }),
      );
    const shallow = flush("3 mm");
    const deep = flush("9 mm");
    expect(shallow.rods[0]).toMatchObject({ action: "single" });
    // a tendon above the centre makes it worse
    expect(shallow.rods[0]!.underElasticCentreM).toBeLessThan(0);
    expect(shallow.relief.leastM).toBeGreaterThan(shallow.relief.slackM);
    expect(shallow.relief.wantedForceN).toBeNull();
    expect(deep.relief.wantedForceN).toBeGreaterThan(0);
  });
});

describe("wood left", () => {
  it("goes with the rod's depth, and stops where it comes through", () => {
    const deep = (axisDepth: string) =>
      reportOf(
        "low-radial",
        inNeck((neck) => {
          rodsOf(neck)[0]!["axisDepth"] = axisDepth;
        }),
      );
    expect(deep("6.5 mm").rods[0]!.woodUnderM).toBeCloseTo(low.rods[0]!.woodUnderM - 0.002, 9);
    expect(deep("6.5 mm").rods[0]!.woodOverM).toBeCloseTo(0.002, 12);
    expect(verdict(deep("7 mm"), "neck-wood")!.level).toBe("watch");
    const wide = reportOf(
      "low-radial",
      inNeck((neck) => {
        for (const rod of rodsOf(neck).slice(1)) Object.assign(rod, { width: "9 mm", axisDepth: "8 mm" });
      }),
    );
    expect(verdict(wide, "neck-wood")!.level).toBe("stop");
  });

  it("under an inlay is what the pocket leaves", () => {
    const inlaid = reportOf(
      "low-radial",
      inNeck((neck) => {
        (neck["head"] as Json)["inlay"] = { depth: "12.5 mm" };
      }),
    );
    expect(inlaid.head.woodUnderInlayM).toBeCloseTo(0.0025, 12);
    expect(verdict(inlaid, "neck-wood")!.level).toBe("watch");
  });
});

it("is refused where the rods' slots leave no neck", () => {
  const hollow = () =>
    reportOf(
      "low-radial",
      inNeck((neck) => {
        const rod = { kind: "adjustable", width: "20 mm", height: "14 mm", length: "400 mm" };
        neck["rods"] = [rod, rod, rod, rod];
      }),
    );
  expect(hollow).toThrow(/neck-hollow/);
});

describe("head", () => {
  it("turns strings down by its angle and sideways as their posts stand", () => {
    for (const s of low.head.strings) {
      expect(Math.abs(s.sidewaysDeg)).toBeLessThan(0.1);
      expect(s.breakAngleDeg).toBeGreaterThan(12);
      expect(s.breakAngleDeg).toBeLessThan(14);
    }
    const fan = reportOf(
      "low-radial",
      inNeck((neck) => {
        const posts = (neck["head"] as { posts: [string, string][] }).posts;
        posts[0] = ["44 mm", "-24.1 mm"];
      }),
    );
    // 6 mm aside on 44 mm
    expect(fan.head.strings[0]!.sidewaysDeg).toBeCloseTo((-Math.atan(6 / 44) * 180) / Math.PI, 0);
    expect(verdict(fan, "string-path")!.level).toBe("watch");
  });

  it("has the rod's line come out of its face further off the flatter it is", () => {
    const flat = reportOf(
      "low-radial",
      inNeck((neck) => {
        (neck["head"] as Json)["angle"] = "6 deg";
      }),
    );
    expect(flat.rods[0]!.leavesHeadM![1]).toBeGreaterThan(1.9 * low.rods[0]!.leavesHeadM![1]);
  });
});

describe("joint and first weeks", () => {
  it("keep in reserve what joint and saddle allow", () => {
    expect(low.joint.reversible).toBe(true);
    expect(low.joint.actionReserve.byJointM).toBeGreaterThan(1e-3);
    const built = reportOf("small-ladder");
    expect(built.joint.actionReserve.byJointM).toBe(0);
    expect(built.joint.words).toContain("as built");
  });

  it("raise the action by creep of what neck and guitar give way", () => {
    expect(low.firstWeeks.wholeM).toBeNull();
    const whole = reportOf("low-radial", () => {}, 1.2e-3).firstWeeks;
    expect(whole.wholeM!.likely / whole.neckM.likely).toBeCloseTo(1.2e-3 / whole.elasticNeckM, 9);
    expect(whole.wholeM!.low).toBeLessThan(whole.wholeM!.likely);
    // 1.2 mm of elastic rise creeps as far as the customary 0.3 to 0.8 mm at its upper end (common practice, no source)
    expect(whole.wholeM!.high).toBeGreaterThan(whole.customaryM.low);
    expect(whole.wholeM!.high).toBeLessThan(whole.customaryM.high);
    // a tighter rod leaves the neck less to creep
    const tight = reportOf(
      "low-radial",
      inNeck((neck) => {
        rodsOf(neck)[0]!["tension"] = "1500 N";
      }),
    );
    expect(tight.firstWeeks.neckM.likely).toBeLessThan(low.firstWeeks.neckM.likely);
  });
});

it("is number for number the same for the left hand", () => {
  const left = reportOf("low-radial", (d) => {
    d["hand"] = "left";
  });
  expect({ ...left, stamp: null }).toEqual({ ...low, stamp: null });
});
