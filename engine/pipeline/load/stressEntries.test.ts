import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import type { BodyStress, PlacedStress } from "#engine/shells";
import { instrumentGeometry } from "../geometry.ts";
import { platePanels } from "../platePanels.ts";
import { stressEntries } from "./stressEntries.ts";
import { stressedBrace, stressedSheet } from "./stressedParts.ts";

function example(name: string) {
  const checked = checkInstrument(
    readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
  );
  if (!checked.ok) throw new Error(name);
  const geometry = instrumentGeometry(checked.build, checked.plan);
  if (!geometry.ok) throw new Error(geometry.detail);
  return { build: checked.build, panels: platePanels(checked.build, checked.plan, geometry.value.board) };
}

const { build, panels } = example("low-radial");
const at = (value: number): PlacedStress => ({ value, x: 0.2, y: 0 });
const pair = (t: number, c: number) => ({ tension: at(t), compression: at(-c) });

describe("stressed parts", () => {
  it("are found for every brace and patch of both panels, and each has a species", () => {
    for (const which of ["top", "back"] as const) {
      expect(stressedSheet(build, which, "plate").species).not.toBeNull();
      for (const { name } of panels[which].patches)
        expect(stressedSheet(build, which, name ?? "").species, name).not.toBeNull();
      for (const { name } of panels[which].ribs)
        expect(stressedBrace(build, which, name ?? "").species, name).toBe("Spruce, Sitka");
    }
    expect(stressedSheet(build, "sides", "ply 2").species).toBe("Maple, sugar");
  });

  it("throw for a part that is not there, which is our own mistake", () => {
    expect(() => stressedBrace(build, "back", "ray 7, towards the tail")).toThrow("no brace");
    expect(() => stressedSheet(build, "back", "bridge")).toThrow("on the back");
  });
});

describe("stress entries", () => {
  const sheet = { along: pair(3e6, 2e6), across: pair(0.3e6, 0.2e6), shear: at(-0.5e6) };
  const stress: BodyStress = {
    sheets: [{ part: "top", sheet: "plate", ...sheet, through: { along: at(0.6e6), rolling: at(0.1e6) } }],
    ribs: [
      {
        plate: "top",
        rib: panels.top.ribs[0]!.name!,
        glued: pair(1e6, 2e6),
        free: pair(4e6, 1e6),
        shear: at(-1e6),
        glue: { mean: 0.4e6, peak: at(-2e6) },
        ends: [
          { x: 0, y: 0, over: 0.01, shear: -1e6, peelMoment: -0.1, peel: -3e6 },
          { x: 0.1, y: 0, over: 0.01, shear: 1e6, peelMoment: 0.1, peel: 2e6 },
        ],
      },
    ],
    rods: [],
  };
  const entries = stressEntries(build, stress, { top: { ...sheet }, back: null });

  it("take the mean over a disc as firm and the single point as a peak", () => {
    const across = entries.filter((e) => e.kind === "tension-across");
    expect(across.map((e) => [e.part, e.peak])).toEqual([
      ["top", false],
      ["top, at a point", true],
    ]);
  });

  it("take the size of each stress, the graver face of a brace, and no peel where the end is pressed on", () => {
    for (const e of entries) expect(e.stress).toBeGreaterThanOrEqual(0);
    const brace = entries.filter((e) => e.part.startsWith("ray 1"));
    expect(brace.find((e) => e.kind === "bending-along")?.stress).toBe(4e6);
    expect(brace.find((e) => e.kind === "compression-along")?.stress).toBe(2e6);
    expect(brace.filter((e) => e.kind === "glue-peel").map((e) => e.stress)).toEqual([0, 2e6]);
  });

  it("hold glue under a brace to both its woods", () => {
    for (const e of entries.filter(({ kind }) => kind.startsWith("glue")))
      expect([e.woods, e.glue]).toEqual([["Spruce, Sitka", "Spruce, Sitka"], "hide"]);
  });
});
