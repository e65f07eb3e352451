import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry } from "./geometry.ts";
import { type SlotsReport, slotsReport } from "./slots.ts";
import { stringSet } from "./stringSet.ts";

type Json = Record<string, unknown>;

/** The report of an example whose document was changed first. */
function reportOf(change: (document: Json) => void = () => {}, name = "cross-braced"): SlotsReport {
  const text = readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const document = JSON.parse(text) as Json;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  return slotsReport(build, opened(instrumentGeometry(build, plan)), opened(stringSet(build)));
}

describe("the report of slots", () => {
  const report = reportOf();

  it("gives every fret of every string its place and what remains there, under the names of the contract", () => {
    for (const s of report.strings) {
      expect(s.refused).toBeNull();
      expect(s.nutOffsetM).toBe(0);
      expect(s.saddleOffsetM!).toBeGreaterThan(1e-3);
      expect(s.frets).toHaveLength(report.slots.length + 1);
      expect(s.frets[0]).toEqual({ fret: 0, nutToFretM: 0, cents: 0 });
      const cents = s.frets.slice(1).map((f) => f.cents!);
      // the saddle balances low frets against high ones
      expect(cents[0]!).toBeGreaterThan(0);
      expect(cents.at(-1)!).toBeLessThan(0);
    }
    expect(JSON.parse(JSON.stringify(report))).toEqual(report);
  });

  it("leaves less with a nut of its own for every string than with one for all or none", () => {
    const sum = (of: (s: SlotsReport["strings"][number]) => number) =>
      report.strings.reduce((total, s) => total + of(s) ** 2, 0);
    const own = sum((s) => s.ownNut!.errorRmsCents);
    const shared = sum((s) => s.sharedNut!.errorRmsCents);
    expect(own).toBeLessThan(shared);
    expect(shared).toBeLessThan(sum((s) => s.errorRmsCents!));
  });

  it("tells what a higher action does: sharper up the board, the saddle farther back", () => {
    expect(report.actionRaiseM).toBe(5e-4);
    for (const s of report.strings) {
      expect(s.actionRaised!.centsChange.at(-1)!).toBeGreaterThan(1);
      expect(s.actionRaised!.saddleOffsetM).toBeGreaterThan(s.saddleOffsetM!);
    }
  });

  it("plays further tunings on the same nut and saddle: what stays at its pitch stays as it was", () => {
    const detuned = reportOf((d) => {
      const strings = d["strings"] as Json;
      const notes = (strings["set"] as { note: string }[]).map((s) => s.note);
      strings["tunings"] = [{ name: "low sixth", notes: [...notes.slice(0, 5), "D2"] }];
    });
    const [tuning] = detuned.otherTunings;
    expect(tuning!.name).toBe("low sixth");
    tuning!.strings.slice(0, 5).forEach((s, i) => {
      expect(s.left!.errorRmsCents).toBeCloseTo(detuned.strings[i]!.errorRmsCents!, 6);
      expect(s.left!.saddleOffsetM).toBeCloseTo(detuned.strings[i]!.saddleOffsetM!, 6);
    });
    // slacker: stretching and bending count for more
    expect(tuning!.strings[5]!.left!.saddleOffsetM).toBeGreaterThan(detuned.strings[5]!.saddleOffsetM!);
    expect(tuning!.strings[5]!.left!.worstCents).toBeGreaterThan(0);
  });

  it("refuses a string that cannot be played, by its number and fret, and still tells where the slots are", () => {
    const low = reportOf((d) => {
      (d["strings"] as Json)["action"] = { bass: "4 mm", treble: "0.5 mm" };
      (d["strings"] as Json)["relief"] = "1.2 mm";
    });
    expect(low.slots).toHaveLength(report.slots.length);
    expect(low.strings[0]).toMatchObject({
      saddleOffsetM: null,
      errorRmsCents: null,
      ownNut: null,
      sharedNut: null,
      refused: { reason: "open-on-a-fret", detail: expect.stringMatching(/^string 1, open: .* fret \d+/) },
    });
    expect(low.strings[5]!.saddleOffsetM).not.toBeNull();
  });

  it("turns measured cents into a re-cut with a range, and says of one reading what it leaves open", () => {
    const measured = reportOf((d) => {
      d["setup"] = {
        measured: [
          { string: 1, fret: 0, cents: 0, how: "tuner" },
          { string: 1, fret: 5, cents: 4, how: "tuner" },
          { string: 1, fret: 12, cents: 6, how: "tuner" },
          { string: 6, fret: 12, cents: 3, how: "tuner" },
        ],
      };
    });
    const { recut } = measured.strings[0]!.measured!;
    // sharp by 6 cents at fret 12 wants about 6/1731 of the open length more at the saddle
    expect(recut!.moveM).toBeGreaterThan(1e-3);
    expect(recut!.moveM).toBeLessThan(3e-3);
    expect(recut!.lowM).toBeLessThan(recut!.moveM);
    expect(measured.strings[5]!.measured).toMatchObject({
      recut: null,
      refused: { reason: "too-few-readings" },
    });
    expect(measured.strings[1]!.measured).toBeNull();
  });

  it("gives a left-handed board the same offsets", () => {
    const left = reportOf((d) => Object.assign(d, { hand: "left" }));
    expect(left.strings).toEqual(report.strings);
  });

  it("presses deeper than is usual where the action asks for it, unless the document says how deep", () => {
    const high = (setup: Json | undefined) =>
      reportOf((d) => {
        (d["strings"] as Json)["action"] = { bass: "6 mm", treble: "6 mm" };
        if (setup === undefined) delete d["setup"];
        else d["setup"] = setup;
      });
    expect(high(undefined).strings[0]!.fingerDepthM).toBeGreaterThan(3e-4);
    expect(high({ finger: { depth: "0.2 mm" } }).strings[0]!.refused).toMatchObject({
      reason: "not-on-the-fret",
    });
  });
});
