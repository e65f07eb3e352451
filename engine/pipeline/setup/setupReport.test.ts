import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry } from "../geometry.ts";
import { stringSet } from "../stringSet.ts";
import { type SetupReport, setupReport } from "./setupReport.ts";

type Json = Record<string, unknown>;

function reportOf(name: string, change: (document: Json) => void = () => {}): SetupReport {
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const document = JSON.parse(text) as Json;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  return opened(setupReport(build, opened(instrumentGeometry(build, plan)), opened(stringSet(build))));
}

const put =
  (path: string, value: unknown) =>
  (document: Json): void => {
    const keys = path.split(".");
    const last = keys.pop()!;
    const at = keys.reduce<Json>((here, key) => here[key] as Json, document);
    at[last] = value;
  };
const mm = (value: number): string => `${(value * 1e3).toFixed(4)} mm`;
const struck = (report: SetupReport, pluck: string, tuning = 0): number =>
  report.tunings[tuning]!.strings.reduce(
    (sum, s) => sum + s.plucks.find((p) => p.pluck === pluck)!.buzzingFrets.length,
    0,
  );
const verdict = (report: SetupReport, id: string) => report.verdicts.find((v) => v.id === id)!;

const low = reportOf("low-radial");

describe("the report of the setup", () => {
  it("has the wanted action over fret 12 of the outer strings and the stated clearance at the nut", () => {
    expect(low.strings[0]!.actionM[12]).toBeCloseTo(1.9e-3, 14);
    expect(low.strings[5]!.actionM[12]).toBeCloseTo(2.5e-3, 14);
    for (const s of low.strings) {
      expect(s.actionM[0]).toBeCloseTo(4e-4, 14);
      expect(s.actionM).toHaveLength(23);
      expect(s.crownM).toHaveLength(23);
      // relief alone parts the crowns from the board, deepest by 0.15 mm between fret 1 and the joint, none beyond
      const sag = s.crownM.map((z, f) => s.boardM[f]! - z);
      expect(Math.max(...sag)).toBeGreaterThan(1.4e-4);
      expect(Math.max(...sag)).toBeLessThan(1.5e-4 + 1e-9);
      for (const f of [0, 1, 14, 18, 22]) expect(sag[f]).toBeCloseTo(0, 12);
      for (let f = 1; f < 23; f++) expect(s.actionM[f]!).toBeGreaterThan(s.actionM[f - 1]!);
    }
    expect(JSON.parse(JSON.stringify(low))).toEqual(low);
  });

  it("asks for the saddle that pitch, board, dome and action add up to on a flat board", () => {
    const ladder = reportOf("small-ladder");
    // 24 3/4 in; bodies' and board's own numbers: 5.5 board, 1.0 fret, pitch 1.35 degrees, dome as in the document
    const { dome } = JSON.parse(
      readFileSync(new URL("../../../examples/small-ladder.fairbout.json", import.meta.url), "utf8"),
    ).top as { dome: { radius: string; apex: [string, string] } };
    const [radius, apex] = [Number.parseFloat(dome.radius), Number.parseFloat(dome.apex[0]) / 1e3];
    // saddle lies half a scale from fret 12, where the neck joins (string 1 leans by 9 mm over its length)
    const run = Math.sqrt(0.62865 ** 2 - 0.009 ** 2) / 2;
    const top = (x: number, y = 0): number => Math.sqrt(radius ** 2 - (x - apex) ** 2 - y ** 2) - radius;
    const plane = 0.0065 + run * Math.tan((1.35 * Math.PI) / 180) - (top(0.476 - run, -0.028) - top(0.476));
    // the relief ends at fret 12 here: the string is straight from nut over fret 12
    expect(ladder.saddle.trebleAskedM).toBeCloseTo(plane + 2 * 1.8e-3 - 4e-4, 8);
    const tilted = reportOf("small-ladder", put("neck.pitch", "1.45 deg"));
    const more = run * (Math.tan((1.45 * Math.PI) / 180) - Math.tan((1.35 * Math.PI) / 180));
    expect(tilted.saddle.trebleMoveM - ladder.saddle.trebleMoveM).toBeCloseTo(more, 8);
    expect(tilted.neck.straightedgeOverBridgeM - ladder.neck.straightedgeOverBridgeM).toBeCloseTo(more, 8);
  });

  it("lowers the outer strings' saddle by the cross curve, carried on to the bridge", () => {
    const flat = reportOf("low-radial", put("fingerboard.radius", { kind: "flat" }));
    // radius at the saddle: 400 mm, growing by 160 mm over 22 frets, at 28.25 mm from the middle
    const drop = 0.02825 ** 2 / 2 / (0.4 + 0.16 * (0.662 / 0.4762));
    expect((flat.saddle.bassAskedM - low.saddle.bassAskedM) / drop).toBeCloseTo(1, 1);
    expect((flat.saddle.trebleAskedM - low.saddle.trebleAskedM) / drop).toBeCloseTo(1, 1);
    const inner = flat.strings[2]!.heightAtBridgeM - low.strings[2]!.heightAtBridgeM;
    expect(inner).toBeLessThan(drop / 10);
  });

  it("turns the string over the saddle by what it drops behind and how it falls towards the nut", () => {
    const s = low.strings[0]!;
    // 1.9 mm over fret 12 doubled to the saddle, less relief (0.12), cross curve (0.2) and twice the nut's 0.4 mm
    const ahead = 0.5 + (Math.atan(0.0027 / 0.652) * 180) / Math.PI;
    const behind = (Math.atan((s.heightAtBridgeM - 0.0092) / 0.011) * 180) / Math.PI;
    expect(s.breakAngleDeg).toBeCloseTo(ahead + behind, 1);
    const nearer = reportOf("low-radial", put("bridge.anchorBehind", "7 mm"));
    expect(nearer.strings[0]!.breakAngleDeg).toBeGreaterThan(s.breakAngleDeg + 5);
    expect(verdict(nearer, "break-angle").level).not.toBe("stop");
  });

  it("tells the action that an unchanged saddle gives: half of the missing height at fret 12", () => {
    const moved = reportOf("low-radial", (d) => {
      put("saddle.heightBass", mm(low.saddle.bassAskedM))(d);
      put("saddle.heightTreble", mm(low.saddle.trebleAskedM + 4e-4))(d);
    });
    expect(moved.strings[5]!.actionAsStatedM).toBeCloseTo(2.5e-3, 7);
    expect(moved.strings[0]!.actionAsStatedM).toBeCloseTo(1.9e-3 + 2e-4, 7);
    expect(moved.saddle.trebleMoveM).toBeCloseTo(-4e-4, 7);
    expect(verdict(moved, "saddle-height").level).toBe("watch");
  });
});

describe("the buzz of the setup", () => {
  it("grows from soft to hard, and with a slack tuning", () => {
    expect(struck(low, "soft")).toBe(0);
    expect(struck(low, "normal")).toBeGreaterThan(0);
    expect(struck(low, "hard")).toBeGreaterThan(struck(low, "normal"));
    // open F is slacker than D standard on four strings
    expect(low.tunings[2]!.name).toBe("open F");
    expect(struck(low, "normal", 2)).toBeGreaterThan(struck(low, "normal"));
    for (const [i, s] of low.tunings[2]!.strings.entries()) {
      const own = low.tunings[0]!.strings[i]!;
      expect(s.plucks[1]!.peakM * s.tensionN).toBeCloseTo(own.plucks[1]!.peakM * own.tensionN, 12);
      expect(s.atRest).toEqual(own.atRest);
    }
  });

  it("is gone from stopped notes at the action it names, and there only just", () => {
    const least = low.tunings[0]!.strings.map((s) => s.plucks[1]!.leastActionM!);
    const set = (action: number) =>
      reportOf("low-radial", put("strings.action", { bass: mm(action), treble: mm(action) }));
    const stopped = (report: SetupReport): number =>
      report.tunings[0]!.strings.reduce(
        (sum, s) => sum + s.plucks[1]!.buzzingFrets.filter((f) => f > 0).length,
        0,
      );
    expect(stopped(set(Math.max(...least) + 1e-6))).toBe(0);
    expect(stopped(set(Math.max(...least) - 1e-5))).toBeGreaterThan(0);
  });

  it("everywhere is a stop that names the lowest action that works; custom's lowest action is none (common practice, no source)", () => {
    const flat = reportOf("cross-braced", put("strings.action", { bass: "0.9 mm", treble: "0.7 mm" }));
    const buzz = verdict(flat, "buzz");
    expect(buzz.level).toBe("stop");
    expect(buzz.whatWouldChange).toMatch(
      /a soft pluck clears all stopped notes from an action of 1\.\d mm treble/,
    );
    const custom = reportOf("cross-braced", put("strings.action", { bass: "2.2 mm", treble: "1.6 mm" }));
    expect(verdict(custom, "buzz").level).not.toBe("stop");
    expect(struck(custom, "soft")).toBe(0);
  });

  it("finds the relief that keeps a normal pluck farthest from the crowns", () => {
    const best = low.reliefs.reduce((a, b) => (b.leastClearanceM > a.leastClearanceM ? b : a));
    const set = reportOf("low-radial", put("strings.relief", mm(best.reliefM)));
    const least = Math.min(
      ...set.tunings[0]!.strings.flatMap((s) =>
        s.plucks[1]!.clearanceM.flatMap((c) => (c === null ? [] : [c])),
      ),
    );
    expect(least).toBeCloseTo(best.leastClearanceM, 9);
    expect(low.reliefs.some((r) => Math.abs(r.reliefM - low.neck.reliefM) < 1e-12)).toBe(true);
  });
});

describe("reach", () => {
  it("of a 12-fret neck without a cutaway is fret 15 (common practice, no source)", () => {
    expect(reportOf("small-ladder").reach).toMatchObject({ fret: 15, lastFret: 19, limit: "body" });
  });

  it("is the whole board with the cutaway on the treble side, and ends some frets past the joint with it on the other", () => {
    expect(low.reach).toMatchObject({ fret: 22, limit: "board" });
    const other = reportOf("low-radial", (d) => {
      put("cutaway.side", "bass")(d);
      const { centre } = d["soundHole"] as { centre: [string, string] };
      centre[1] = `-${centre[1]}`;
    });
    expect(other.reach.fret).toBeGreaterThanOrEqual(16);
    expect(other.reach.fret).toBeLessThanOrEqual(19);
    expect(verdict(other, "reach").level).toBe("watch");
  });
});

it("is number for number the same for the left hand", () => {
  const left = reportOf("cross-braced", put("hand", "left"));
  const right = reportOf("cross-braced");
  expect({ ...left, stamp: null }).toEqual({ ...right, stamp: null });
});
