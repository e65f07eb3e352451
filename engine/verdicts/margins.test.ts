import { describe, expect, it } from "vitest";
import { celsiusZero } from "#engine/units";
import { year } from "#engine/woods";
import { breakage } from "./breakage.ts";
import { type LoadConditions, margins, type StressEntry } from "./margins.ts";

const test: LoadConditions = {
  name: "as the tables test",
  moisture: 0.12,
  temperature: celsiusZero + 20,
  seconds: 60,
};
const decades: LoadConditions = { ...test, name: "fifty years", seconds: 50 * year };

function entry(changes: Partial<StressEntry>): StressEntry {
  return {
    part: "top",
    kind: "bending-along",
    stress: 7e6,
    place: { x: 0.2, y: 0.01 },
    woods: ["Spruce, Sitka"],
    glue: null,
    peak: false,
    ...changes,
  };
}
const glued: Partial<StressEntry> = {
  part: "bridge",
  kind: "glue-shear",
  stress: 1e6,
  woods: ["Spruce, Sitka", "Rosewood, Indian"],
  glue: "hide",
};

describe("margins", () => {
  it("is strength over stress: Sitka bent at 7 MPa in a short test has 10 in hand (WH-T53: 70 MPa)", () => {
    const [row] = margins([entry({})], test);
    expect(row?.margin).toBeCloseTo(10, 9);
    expect(row?.weakMargin).toBeCloseTo(10 * (1 - 1.645 * 0.16), 9);
    expect(row?.source).toBe("WH-T53");
  });

  it("lists the factors whose product it took, and each with a source", () => {
    const [row] = margins([entry({})], { ...decades, moisture: 0.08, temperature: celsiusZero + 40 });
    const all = row?.factors.reduce((p, f) => p * f.factor, 1) ?? Number.NaN;
    expect(row?.factors.map((f) => f.name)).toEqual(["moisture", "temperature", "time under load"]);
    expect(row?.strength).toBeCloseTo(70e6 * all, 0);
    for (const f of row?.factors ?? []) expect(f.source).not.toBe("");
    expect(row?.factors[2]?.factor).toBeCloseTo(0.59, 2);
  });

  it("lets the weakest of both woods and the glue rule in a glue line", () => {
    const [shear] = margins([entry(glued)], test);
    expect(shear?.rules).toBe("Spruce, Sitka");
    expect(shear?.margin).toBeCloseTo(6.7, 9);
    const [peel] = margins([entry({ ...glued, kind: "glue-peel" })], test);
    expect(peel?.margin).toBeCloseTo(2.6, 9);
    const hard = margins([entry({ ...glued, woods: ["Maple, sugar", "Maple, sugar"], glue: "epoxy" })], test);
    expect(hard[0]?.rules).toContain("epoxy");
  });

  it("is not known, never guessed, without a species, a cell, a glue, or with a glue gone soft", () => {
    const rows = margins(
      [
        entry({ woods: [null] }),
        entry({ woods: ["Rosewood, Indian"], kind: "compression-across" }),
        entry({ ...glued, woods: ["Spruce, Sitka", null] }),
        entry({ ...glued, glue: "paste" }),
      ],
      test,
    );
    for (const row of rows) {
      expect([row.margin, row.strength, row.source]).toEqual([null, null, "not known"]);
      expect(row.rules.length).toBeGreaterThan(10);
    }
    const hot = { ...test, temperature: celsiusZero + 60 };
    expect(margins([entry(glued)], hot)[0]?.margin).toBeNull();
    expect(margins([entry({})], { ...test, temperature: celsiusZero + 80 })[0]?.margin).toBeNull();
  });

  it("puts the least first and what is not known last, and leaves out what nothing pulls", () => {
    const rows = margins(
      [entry({ woods: [null] }), entry({}), entry({ stress: 20e6 }), entry({ stress: 0 })],
      test,
    );
    expect(rows.map((r) => (r.margin === null ? null : Number(r.margin.toFixed(2))))).toEqual([
      3.5,
      10,
      null,
    ]);
  });
});

describe("breakage", () => {
  const level = (stress: number, changes: Partial<StressEntry> = {}) =>
    breakage(margins([entry({ ...changes, stress })], test)).level;

  it("stops below 1, watches below 2, else good", () => {
    expect([71e6, 69e6, 36e6, 34e6].map((s) => level(s))).toEqual(["stop", "watch", "watch", "good"]);
  });

  it("stops a load that a short test bears and decades do not", () => {
    const stress = 50e6;
    expect(breakage(margins([entry({ stress })], test)).level).toBe("watch");
    expect(breakage(margins([entry({ stress })], decades)).level).toBe("stop");
  });

  it("watches, and does not stop, a peak at a point and compression", () => {
    expect(level(4e6, { ...glued, kind: "glue-peel", peak: true })).toBe("watch");
    expect(level(4e6, { ...glued, kind: "glue-peel" })).toBe("stop");
    expect(level(4e6, { kind: "compression-across" })).toBe("watch");
    expect(level(40e6, { kind: "compression-along" })).toBe("watch");
  });

  it("is not good where no strength is known, says how many are not, and can hurt", () => {
    const none = breakage(margins([entry({ woods: [null] })], test));
    expect([none.level, none.figures.notKnown]).toEqual(["watch", 1]);
    const some = breakage(margins([entry({ woods: [null] }), entry({})], test));
    expect(some.computed).toContain("the strength is not known");
    expect(some.canHurt).toBe(true);
  });
});
