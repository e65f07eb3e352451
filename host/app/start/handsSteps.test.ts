import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry, setupReport, slotsReport, stringSet, stringsReport } from "#engine/pipeline";
import { braceSteps, nutSteps, openSteps, slotSteps } from "./handsSteps.ts";

const text = readFileSync(new URL("../../../examples/cross-braced.fairbout.json", import.meta.url), "utf8");
const checked = checkInstrument(text);
if (!checked.ok) throw new Error("the example is at fault");
const { build, plan } = checked;
const geometry = opened(instrumentGeometry(build, plan));
const strings = opened(stringSet(build));
const { cuts } = slotsReport(build, geometry, strings);

describe("steps for full hands", () => {
  it("lead along the fret slots from the nut, both edges of each", () => {
    const steps = slotSteps(cuts, "metric");
    expect(steps).toHaveLength(1 + 2 * build.board.frets);
    // a board of parallel frets: fret 12 at half the scale (ISO 16), seen along an edge that spreads a little
    const twelve = Number(steps.find(({ step }) => step === "Fret 12, bass edge")!.figure.split(" ")[0]);
    expect(Math.abs(twelve - 647.7 / 2)).toBeLessThan(0.2);
    expect(slotSteps(cuts, "inch").at(-1)!.figure).toMatch(/^\d+\.\d{3} in$/);
    expect(slotSteps(null, "metric")).toEqual([]);
  });

  it("lead across the nut from the lowest string", () => {
    const steps = nutSteps(cuts, "metric");
    expect(steps.map(({ step }) => step)[0]).toBe("String 6, from the bass edge");
    const first = Number(steps[0]!.figure.split(" ")[0]);
    const last = Number(steps[5]!.figure.split(" ")[0]);
    expect(Math.abs(last - first - 37)).toBeLessThan(0.02);
  });

  it("read the braces out as the maker typed them", () => {
    const steps = braceSteps(JSON.parse(text));
    expect(steps[0]).toEqual({ step: "long brace, treble to bass, height", figure: "15.5 mm" });
    expect(braceSteps(null)).toEqual([]);
  });

  it("tell what is open, gravest first, each with its number; what is meant so is settled", () => {
    const verdicts = [
      ...opened(setupReport(build, geometry, strings)).verdicts,
      ...opened(stringsReport(build, strings)).verdicts,
    ];
    const open = openSteps(verdicts, "metric");
    const buzz = verdicts.find(({ id }) => id === "buzz")!;
    expect(buzz.level).toBe("watch");
    expect(open).toContainEqual({
      step: "Room over the next crown",
      figure: `${(1e3 * buzz.figures["leastNormal"]!).toFixed(2)} mm`,
      level: "watch",
    });
    const meant = verdicts.map((v) => ({ ...v, meant: "so wanted" }));
    expect(openSteps(meant, "metric").filter(({ step }) => step === "Room over the next crown")).toEqual([]);
    const graver = openSteps([...verdicts, { ...buzz, level: "stop" }], "metric");
    expect(graver[0]).toMatchObject({ step: "Room over the next crown", level: "stop" });
  });
});
