import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Build, checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { stringSet } from "../stringSet.ts";
import { type StringsReport, stringsReport } from "./stringsReport.ts";

const text = readFileSync(new URL("../../../examples/low-radial.fairbout.json", import.meta.url), "utf8");

function built(change: (document: { strings: Record<string, unknown> }) => void = () => {}): Build {
  const document = JSON.parse(text) as { strings: Record<string, unknown> };
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  return checked.build;
}

const build = built();
const reportOf = (b: Build, wish: Parameters<typeof stringsReport>[2] = {}): StringsReport =>
  opened(stringsReport(b, opened(stringSet(b)), wish));

describe("the report of strings", () => {
  const report = reportOf(build);

  it("tells every tuning of the document, tension by 4 m L^2 f^2 and the total by their sum", () => {
    expect(report.tunings.map(({ name }) => name)).toEqual(["D standard", "C suspended", "open F"]);
    for (const { totalN, strings } of report.tunings) {
      expect(totalN).toBeCloseTo(
        strings.reduce((sum, s) => sum + s.tensionN, 0),
        9,
      );
      for (const [i, s] of strings.entries()) {
        const { linearDensityKgPerM: m, scaleLengthM: length } = report.strings[i]!;
        expect(s.tensionN / (4 * m * length ** 2 * s.frequencyHz ** 2)).toBeCloseTo(1, 12);
        expect(s).toMatchObject({ state: "holds", nearest: null });
      }
    }
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it("judges strength, slackness and load of each tuning, and hands up the gravest of each", () => {
    for (const { verdicts } of report.tunings)
      expect(verdicts.map(({ id }) => id)).toEqual(["string-strength", "slack", "total-load"]);
    expect(report.verdicts.map(({ id }) => id)).toEqual(["string-strength", "slack", "total-load"]);
  });

  it("gives each wire's values with their sources", () => {
    expect(report.materials.map(({ name }) => name)).toEqual(["steel", "phosphor-bronze"]);
    for (const { density, stiffness } of report.materials) {
      expect(density.source).toMatch(/A228|memory/);
      expect(stiffness.spread).toBeGreaterThan(0);
    }
  });

  it("is told for another tuning by its name, and names those there are where there is none such", () => {
    const f = reportOf(build, { tuning: "open F" });
    expect(f.strings.map(({ note }) => note)).toEqual(build.tunings[2]!.notes);
    expect(f.strings[0]!.tensionN).toBeLessThan(report.strings[0]!.tensionN);
    expect(stringsReport(build, opened(stringSet(build)), { tuning: "E" })).toMatchObject({
      reason: "no-such-tuning",
      detail: expect.stringContaining('"C suspended"'),
    });
  });

  it("proposes a set that is more equal than the document's, for tension and for feel", () => {
    for (const kind of ["tension", "feel"] as const) {
      const balance = reportOf(build, { balance: kind }).balance!;
      expect(balance.ratioThen!).toBeLessThan(balance.ratioNow);
      expect(balance.ratioThen!).toBeLessThan(1.1);
      for (const s of balance.strings) expect(s.breakMargin!).toBeGreaterThan(1.12);
    }
    expect(report.balance).toBeNull();
  });

  it("says what works instead of a string that would break", () => {
    const high = built((document) => {
      const set = document["strings"]["set"] as { note: string }[];
      set[0]!.note = "B4";
    });
    const [first] = reportOf(high).tunings[0]!.strings;
    expect(first!.state).toBe("breaks");
    expect(first!.nearest!.note).toMatch(/^[A-G]#?4$/);
    expect(first!.nearest!.scaleLengthM!).toBeLessThan(0.652);
    const verdict = reportOf(high).verdicts.find(({ id }) => id === "string-strength")!;
    expect(verdict.level).toBe("stop");
  });

  it("takes a weighed string at its word", () => {
    const weighed = built((document) => {
      const set = document["strings"]["set"] as { unitWeight?: unknown }[];
      set[5]!.unitWeight = { value: "14 g/m", how: "measured", spread: "0.05 g/m" };
    });
    const row = reportOf(weighed).strings[5]!;
    expect(row).toMatchObject({ weightFrom: "given", linearDensityKgPerM: 0.014 });
    expect(row.spread.linearDensity).toBeLessThan(report.strings[5]!.spread.linearDensity);
  });
});
