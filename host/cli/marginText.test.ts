import { describe, expect, it } from "vitest";
import type { LoadReport } from "#engine/pipeline";
import { marginText } from "./marginText.ts";

type Row = LoadReport["margins"][number];

function row(changes: Partial<Row>): Row {
  return {
    part: "top",
    what: "tension across the grain",
    conditions: "strings at pitch, 50 years, shop air",
    stressPa: 0.8e6,
    strengthPa: 1.6e6,
    weakStrengthPa: 1e6,
    factors: [{ name: "moisture", factor: 1.08, source: "WH-MECH" }],
    margin: 2,
    weakMargin: 1.25,
    placeM: null,
    peak: false,
    rules: "Spruce, Sitka",
    source: "WH-T53 (memory)",
    ...changes,
  };
}
const text = (margins: readonly Row[]) => marginText({ margins } as LoadReport);

describe("the margin table", () => {
  it("names part, way, stress, what it bears and the source of the limit", () => {
    const found = text([row({})]).replace(/\s+/g, " ");
    for (const words of [
      "2.0",
      "0.80",
      "1.60",
      "top: tension across",
      "WH-T53 (memory)",
      "moisture 1.08 (WH-MECH)",
      "common practice, no source",
    ])
      expect(found).toContain(words);
  });

  it("says what gives first in a glue line", () => {
    expect(text([row({ part: "bridge", what: "peel of the glue line" })])).toContain(
      "bridge: peel of glue (Spruce, Sitka)",
    );
  });

  it("sets peaks apart, and says once why a strength is not known", () => {
    const unknown = { margin: null, weakMargin: null, strengthPa: null, rules: "no species is named" };
    const found = text([row({}), row({ peak: true, part: "hub" }), row(unknown), row(unknown)]);
    expect(found.indexOf("Peaks at a single point")).toBeLessThan(found.indexOf("hub:"));
    expect(found.split("no species is named")).toHaveLength(2);
    expect(found).toContain("Not known at 2 places");
  });

  it("says how many rows it leaves to the JSON", () => {
    expect(text(Array.from({ length: 15 }, () => row({})))).toContain("and 3 more");
  });
});
