import { describe, expect, it } from "vitest";
import { boardCells } from "./boardCells.ts";
import { placedBoard } from "./drawnGuitar.fixture.ts";
import { hatch } from "./hatch.ts";
import { placeOnSheet, strip } from "./placing.ts";

const extent = { minX: 0, maxX: 0.5, minY: -0.2, maxY: 0.2 };
const frame = { x: 10, y: 20, width: 100, height: 80 };

describe("placing on the sheet", () => {
  it("turns and never mirrors: neck to the left and bass below for either hand's own plan", () => {
    const right = placeOnSheet("right", extent, frame, 200);
    expect(right.point(0, 0)).toEqual([110, 60]);
    expect(right.point(0.5, 0.1)).toEqual([10, 80]);
    // A left-handed plan is mirrored already: its bass side has negative y.
    const left = placeOnSheet("left", extent, frame, 200);
    expect(left.point(0.5, -0.1)).toEqual([110, 80]);
    for (const place of [right, left]) {
      const [o, a, b] = [place.point(0, 0), place.point(0.1, 0), place.point(0, 0.1)];
      // Sheet y runs down, so a plan that is not mirrored turns the other way round there.
      expect(Math.sign((a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]))).toBe(-1);
    }
  });

  it("keeps lengths times the scale", () => {
    const place = placeOnSheet("right", extent, frame, 200);
    const [a, b] = [place.point(0.1, 0.05), place.point(0.3, -0.1)];
    expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(0.25 * 200, 10);
  });
});

describe("the strip of a bar", () => {
  it("has the bar's length times its width as its area", () => {
    const s = strip(Float64Array.of(1, 2, 4, 6), 0.5);
    let twice = 0;
    for (let i = 0; i < s.length; i += 2)
      twice += s[i] * s[(i + 3) % s.length] - s[(i + 2) % s.length] * s[i + 1];
    expect(Math.abs(twice / 2)).toBeCloseTo(5 * 0.5, 12);
  });
});

describe("hatching", () => {
  it("fills the area once: strokes times their spacing", () => {
    const box = Float64Array.of(0, 0, 30, 0, 30, 12, 0, 12);
    const total = hatch(box, 0.2).reduce((sum, s) => sum + Math.hypot(s[2] - s[0], s[3] - s[1]), 0);
    expect(total * 0.2).toBeCloseTo(30 * 12, -1);
  });

  it("lies on one grid, so that neighbouring cells run on", () => {
    const grid = (polygon: Float64Array) =>
      hatch(polygon, 0.7).map((s) => Math.round(((s[0] + s[1]) / (0.7 * Math.SQRT2)) * 1e6) / 1e6);
    for (const c of [
      ...grid(Float64Array.of(0, 0, 5, 0, 5, 5, 0, 5)),
      ...grid(Float64Array.of(5, 0, 9, 0, 9, 5, 5, 5)),
    ])
      expect(Number.isInteger(c)).toBe(true);
  });
});

describe("the cells of the board", () => {
  const board = placedBoard();
  const cells = boardCells(board);

  it("are one for every string and fret with the open notes, and each string runs the real distances between slots", () => {
    expect(cells).toHaveLength(6 * 21);
    for (const {
      string,
      fret,
      stringPath: [a, b],
    } of cells) {
      if (fret === 0) continue;
      const { fretDistance } = board.strings.find((s) => s.string === string)!;
      expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(
        fretDistance[fret] - fretDistance[fret - 1],
        9,
      );
    }
  });

  it("fill the board between nut and last slot without gap or overlap", () => {
    const area = (points: readonly (readonly [number, number])[]) =>
      Math.abs(
        points.reduce(
          (sum, [x, y], i) =>
            sum + x * points[(i + 1) % points.length][1] - points[(i + 1) % points.length][0] * y,
          0,
        ),
      ) / 2;
    const last = board.slots[board.slots.length - 1];
    const whole = area([board.nutLine.bass, board.nutLine.treble, last.treble, last.bass]);
    const parts = cells.filter((c) => c.fret > 0).reduce((sum, c) => sum + area(c.corners), 0);
    expect(parts).toBeCloseTo(whole, 9);
  });
});
