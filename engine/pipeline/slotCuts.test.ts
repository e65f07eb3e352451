import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry } from "./geometry.ts";
import { type CutsReport, cutsReport } from "./slotCuts.ts";

function cutsOf(change: (document: Record<string, unknown>) => void = () => {}): CutsReport {
  const text = readFileSync(new URL("../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const document = JSON.parse(text) as Record<string, unknown>;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  return opened(cutsReport(build, opened(instrumentGeometry(build, plan))));
}

describe("the cuts for the shop cards", () => {
  const cuts = cutsOf();

  it("divide the outer strings by the fret law, and end the frets as the document says", () => {
    for (const f of cuts.frets) {
      expect(f.lowestStringM).toBeCloseTo(0.672 * (1 - 2 ** (-f.fret / 12)), 12);
      expect(f.highestStringM).toBeCloseTo(0.652 * (1 - 2 ** (-f.fret / 12)), 12);
      expect(f.wireM).toBeCloseTo(f.slotM, 15);
      expect(f.tangM).toBeCloseTo(f.slotM - 2 * 1.2e-3, 15);
    }
    expect(cuts.wireInAllM).toBeCloseTo(
      cuts.frets.reduce((sum, f) => sum + f.slotM, 0),
      14,
    );
  });

  it("check the bridge by its diagonals: two triangles on the spread at the saddle", () => {
    const { bridge } = cuts;
    // string 6 nut to both saddle ends and the saddle line between them must close a triangle
    const span = cuts.stringsAcross[0]!.fromLowestAtSaddleM;
    const cos =
      (bridge.lowestM ** 2 + span ** 2 - bridge.fromLowestNutToHighestM ** 2) / (2 * bridge.lowestM * span);
    expect(Math.abs(cos)).toBeLessThan(1);
    // across the centreline the spread is 56.5 mm; the line is slanted
    expect(span).toBeGreaterThan(0.0565);
    expect(bridge.highestM).toBeCloseTo(0.652, 14);
    expect(bridge.fromHighestNutToLowestM).toBeGreaterThan(bridge.fromLowestNutToHighestM);
  });

  it("are the same for the left hand", () => {
    expect(cutsOf((d) => Object.assign(d, { hand: "left" }))).toEqual(cuts);
  });
});
