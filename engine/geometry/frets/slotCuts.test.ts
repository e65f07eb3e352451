import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { boardLayout } from "./boardLayout.ts";
import type { BoardSpec } from "./boardSpec.ts";
import { mirrorBoard } from "./boardToBody.ts";
import { slotCuts } from "./slotCuts.ts";

const spec: BoardSpec = {
  strings: 6,
  bassScale: 0.672,
  trebleScale: 0.652,
  squareFret: 7.5,
  frets: 22,
  nutWidth: 0.0445,
  endWidth: 0.0595,
  endStation: null,
  stringSpreadNut: 0.0375,
  stringSpreadSaddle: 0.0565,
};
const layout = opened(boardLayout(spec));

describe("the cuts of the slots", () => {
  it("place each slot again from edges and diagonals alone, as a maker checks it", () => {
    for (const cut of opened(slotCuts(layout, { nip: 0, overhang: 0 }))) {
      const { bass, treble } = layout.slots[cut.fret - 1];
      const [b, t] = [layout.nutLine.bass, layout.nutLine.treble];
      // cosine rule at the nut's bass corner: angle between nut line and bass edge, from edge and diagonal
      const nut = Math.hypot(b[0] - t[0], b[1] - t[1]);
      const cos =
        (nut ** 2 + cut.alongBassEdge ** 2 - cut.diagonalFromTreble ** 2) / (2 * nut * cut.alongBassEdge);
      const [ux, uy] = [(t[0] - b[0]) / nut, (t[1] - b[1]) / nut];
      const along = ux * (bass[0] - b[0]) + uy * (bass[1] - b[1]);
      expect(along).toBeCloseTo(cos * cut.alongBassEdge, 14);
      expect(cut.diagonalFromBass).toBeCloseTo(Math.hypot(treble[0] - b[0], treble[1] - b[1]), 15);
      expect(cut.length).toBeCloseTo(Math.hypot(bass[0] - treble[0], bass[1] - treble[1]), 15);
    }
  });

  it("take overhang to the fret and nip off its tang, at both ends", () => {
    for (const cut of opened(slotCuts(layout, { nip: 0.0012, overhang: -2e-4 }))) {
      expect(cut.wire).toBeCloseTo(cut.length - 4e-4, 15);
      expect(cut.tang).toBeCloseTo(cut.wire - 0.0024, 15);
    }
  });

  it("are the same for the left hand", () => {
    const cut = { nip: 0.001, overhang: 0 };
    expect(opened(slotCuts(mirrorBoard(layout), cut))).toEqual(opened(slotCuts(layout, cut)));
  });

  it("are refused where no tang is left", () => {
    const made = slotCuts(layout, { nip: 0.03, overhang: 0 });
    expect(made.ok ? "ok" : made.reason).toBe("fret-cut");
  });
});
