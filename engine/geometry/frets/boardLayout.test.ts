import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { boardLayout, fretPlaceOnCentreline } from "./boardLayout.ts";
import type { BoardSpec } from "./boardSpec.ts";
import { boardToBody, mirrorBoard } from "./boardToBody.ts";

const parallel: BoardSpec = {
  strings: 6,
  bassScale: 0.65,
  trebleScale: 0.65,
  squareFret: 0,
  frets: 20,
  nutWidth: 0.044,
  endWidth: 0.057,
  endStation: null,
  stringSpreadNut: 0.038,
  stringSpreadSaddle: 0.056,
};
const skewed: BoardSpec = { ...parallel, bassScale: 0.672, trebleScale: 0.652, squareFret: 7 };

describe("a board", () => {
  it("has each outer scale along its own string, and string 1 is the highest, on the treble side", () => {
    const { strings } = opened(boardLayout(skewed));
    expect(strings.map((s) => s.string)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(strings[0].scaleLength).toBeCloseTo(0.652, 14);
    expect(strings[5].scaleLength).toBeCloseTo(0.672, 14);
    expect(strings[0].nut[1]).toBeCloseTo(-0.019, 15);
    expect(strings[5].saddle[1]).toBeCloseTo(0.028, 15);
    for (let k = 1; k < 6; k++) expect(strings[k].scaleLength).toBeGreaterThan(strings[k - 1].scaleLength);
  });

  it("with one scale has every slot square, evenly placed and ending on the tapered edges", () => {
    const layout = opened(boardLayout(parallel));
    for (const slot of layout.slots) {
      expect(Math.abs(slot.angle)).toBeLessThan(1e-15);
      expect(slot.bass[0]).toBeCloseTo(slot.treble[0], 14);
    }
    const last = layout.slots[19];
    expect(last.length).toBeCloseTo(0.057, 13);
    expect(layout.nutLine.bass).toEqual([0, 0.022]);
    // the board runs on 4 mm past its last slot
    expect(layout.bassEdge[1][0]).toBeCloseTo(last.bass[0] + 0.004, 13);
  });

  it("with two scales has the square fret square, and lower frets leaning one way, higher ones the other", () => {
    const layout = opened(boardLayout(skewed));
    expect(Math.abs(layout.slots[6].angle)).toBeLessThan(1e-14);
    // The bass string is longer at both ends: its nut end lies farther from the bridge, its saddle end beyond.
    expect(layout.nutLine.angle).toBeLessThan(-0.05);
    expect(layout.slots[0].angle).toBeLessThan(0);
    expect(layout.slots[11].angle).toBeGreaterThan(0);
    expect(layout.saddleLine.angle).toBeGreaterThan(layout.slots[11].angle);
  });

  it("takes any real number as the square fret", () => {
    for (const squareFret of [0, 3.5, 8.25, 12]) {
      const spec = { ...skewed, squareFret };
      const layout = opened(boardLayout(spec));
      const fraction = 1 - 2 ** (-squareFret / 12);
      const along = (s: (typeof layout.strings)[number]): number =>
        s.nut[0] + fraction * (s.saddle[0] - s.nut[0]);
      expect(along(layout.strings[0])).toBeCloseTo(along(layout.strings[5]), 14);
    }
  });

  it("puts every fret of every string on its slot's straight line", () => {
    const layout = opened(boardLayout(skewed));
    for (const slot of layout.slots) {
      for (const string of layout.strings) {
        const f = string.fretDistance[slot.fret] / string.scaleLength;
        const x = string.nut[0] + f * (string.saddle[0] - string.nut[0]);
        const y = string.nut[1] + f * (string.saddle[1] - string.nut[1]);
        const u = (y - slot.treble[1]) / (slot.bass[1] - slot.treble[1]);
        expect(slot.treble[0] + u * (slot.bass[0] - slot.treble[0])).toBeCloseTo(x, 14);
      }
    }
  });

  it("follows a table of cents, and straight between its rows for the square fret", () => {
    // Just intonation of the first five semitones, as ratios: 16/15, 9/8, 6/5, 5/4, 4/3.
    const ratios = [16 / 15, 9 / 8, 6 / 5, 5 / 4, 4 / 3];
    const cents = ratios.map((r) => 1200 * Math.log2(r));
    const spec: BoardSpec = { ...parallel, frets: 5, temperament: { kind: "cents", cents } };
    const { strings } = opened(boardLayout(spec));
    for (const [i, ratio] of ratios.entries()) {
      expect(strings[2].fretDistance[i + 1] / strings[2].scaleLength).toBeCloseTo(1 - 1 / ratio, 14);
    }
    expect(boardLayout({ ...spec, squareFret: 4.5 }).ok).toBe(true);
    const short = boardLayout({ ...spec, frets: 6 });
    expect(short.ok ? "ok" : short.reason).toBe("temperament");
    const falling = boardLayout({ ...spec, temperament: { kind: "cents", cents: [100, 90, 300, 400, 500] } });
    expect(falling.ok ? "ok" : falling.reason).toBe("temperament");
  });

  it("lies on the body with its join fret at the neck end, the saddle beyond it toward the tail", () => {
    for (const joinFret of [12, 14, 13.4]) {
      const layout = opened(boardLayout(skewed));
      const placed = opened(boardToBody(layout, skewed, joinFret, 0.505));
      const join = opened(fretPlaceOnCentreline(layout, skewed, joinFret));
      expect(placed.strings[0].nut[0]).toBeCloseTo(0.505 + join - layout.strings[0].nut[0], 14);
      const middle = (placed.saddleLine.bass[0] + placed.saddleLine.treble[0]) / 2;
      expect(middle).toBeLessThan(0.505);
      // Bass end of the saddle nearer the tail, on the bass side (y above 0).
      expect(placed.saddleLine.bass[0]).toBeLessThan(placed.saddleLine.treble[0]);
      expect(placed.saddleLine.bass[1]).toBeGreaterThan(0);
    }
    const twelfth = opened(boardToBody(opened(boardLayout(parallel)), parallel, 12, 0.505));
    const slot = twelfth.slots[11];
    expect(slot.bass[0]).toBeCloseTo(0.505, 13);
  });

  it("mirrored is still lettered the same: string 1 highest, angles kept, sides changed", () => {
    const layout = opened(boardLayout(skewed));
    const left = mirrorBoard(layout);
    expect(left.strings[0].string).toBe(1);
    expect(left.strings[0].nut[1]).toBeGreaterThan(0);
    expect(left.strings[0].fretDistance).toEqual(layout.strings[0].fretDistance);
    expect(left.slots.map((s) => s.angle)).toEqual(layout.slots.map((s) => s.angle));
    expect(mirrorBoard(left)).toEqual(layout);
  });

  it("keeps slots in order and between the edges for any sane scales (fuzz)", () => {
    const share = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        share(0.55, 0.75),
        share(0, 0.04),
        share(0, 14),
        fc.integer({ min: 1, max: 27 }),
        (treble, more, squareFret, frets) => {
          const spec = { ...parallel, trebleScale: treble, bassScale: treble + more, squareFret, frets };
          const layout = opened(boardLayout(spec));
          let before = layout.nutLine;
          for (const slot of layout.slots) {
            expect(slot.bass[0]).toBeGreaterThan(before.bass[0]);
            expect(slot.treble[0]).toBeGreaterThan(before.treble[0]);
            const [end, endHalf] = layout.bassEdge[1];
            const half = (x: number): number => 0.022 + (x / end) * (endHalf - 0.022);
            expect(end).toBeGreaterThan(Math.max(slot.bass[0], slot.treble[0]));
            expect(slot.bass[1]).toBeCloseTo(half(slot.bass[0]), 12);
            expect(-slot.treble[1]).toBeCloseTo(half(slot.treble[0]), 12);
            before = slot;
          }
        },
      ),
      { seed: 25, numRuns: 200 },
    );
  });

  it("refuses figures that make no board", () => {
    const reason = (change: Partial<BoardSpec>): string => {
      const made = boardLayout({ ...skewed, ...change });
      return made.ok ? "ok" : made.reason;
    };
    expect(reason({ bassScale: -0.65 })).toBe("board-does-not-fit");
    expect(reason({ strings: 2.5 })).toBe("board-does-not-fit");
    expect(reason({ stringSpreadNut: 0.05 })).toBe("board-does-not-fit");
    expect(reason({ stringSpreadSaddle: 2 })).toBe("board-does-not-fit");
    expect(reason({ bassScale: 0.04, trebleScale: 0.9, squareFret: 0, frets: 24 })).toBe("frets-cross");
    expect(reason({ frets: Number.NaN })).toBe("board-does-not-fit");
    const placed = boardToBody(opened(boardLayout(skewed)), skewed, -1, 0.5);
    expect(placed.ok ? "ok" : placed.reason).toBe("join-fret");
  });
});
