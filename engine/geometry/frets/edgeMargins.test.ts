import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { parallelBoard } from "./board.fixture.ts";
import { boardLayout } from "./boardLayout.ts";
import { mirrorBoard } from "./boardToBody.ts";
import { edgeMargins } from "./edgeMargins.ts";

describe("the margin beside the outer strings", () => {
  it("on a parallel scale is half of width less spread at every fret, on a usual, a wide and a tapering board", () => {
    for (const [nutWidth, endWidth] of [
      [0.044, 0.057],
      [0.06, 0.08],
      [0.044, 0.04],
    ] as const) {
      const margins = edgeMargins(opened(boardLayout({ ...parallelBoard, nutWidth, endWidth })), 5e-4);
      expect(margins.bass[0]).toBeCloseTo((nutWidth - 0.038) / 2, 15);
      const share = 1 - 2 ** (-20 / 12);
      const last = (endWidth - (0.038 + share * 0.018)) / 2 + 5e-4;
      expect(margins.bass[20]).toBeCloseTo(last, 14);
      expect(margins.treble[20]).toBeCloseTo(last, 14);
    }
  });

  it("is measured along slanted slots, and is the same for the left hand", () => {
    const skewed = { ...parallelBoard, bassScale: 0.672, trebleScale: 0.652, squareFret: 7 };
    const layout = opened(boardLayout(skewed));
    const margins = edgeMargins(layout, 0);
    for (const slot of layout.slots) {
      const inner = layout.strings.length - 1;
      const t = layout.strings[inner].fretDistance[slot.fret] / layout.strings[inner].scaleLength;
      const y = 0.019 + t * 0.009;
      expect(margins.bass[slot.fret]).toBeCloseTo((slot.bass[1] - y) / Math.cos(slot.angle), 12);
    }
    expect(edgeMargins(mirrorBoard(layout), 0)).toEqual(margins);
  });
});
