import { describe, expect, it } from "vitest";
import { boardGrid, cellAt, type GridCell, type Pixel, stepOnBoard } from "./boardGrid.ts";
import { exampleBoard } from "./views.fixture.ts";

const margins = { nut: 40, end: 4, above: 20, below: 10 };
const right = boardGrid(exampleBoard("low-radial"), "right", 1000, margins);
const left = boardGrid(exampleBoard("low-radial", "left"), "left", 1000, margins);

const cellOf = (grid: typeof right, string: number, fret: number): GridCell =>
  grid.cells.find((c) => c.string === string && c.fret === fret)!;
const apart = ([ax, ay]: Pixel, [bx, by]: Pixel): number => Math.hypot(bx - ax, by - ay);
const middle = ({ path: [[ax, ay], [bx, by]] }: GridCell): Pixel => [(ax + bx) / 2, (ay + by) / 2];

describe("boardGrid", () => {
  it("sets slot 12 halfway from nut to saddle on every string (equal temperament, the octave)", () => {
    const board = exampleBoard("low-radial");
    for (const { string, nut, saddle } of board.strings) {
      const toOctave = apart(cellOf(right, string, 1).path[0], cellOf(right, string, 12).path[1]);
      const scale = Math.hypot(saddle[0] - nut[0], saddle[1] - nut[1]) * right.pxPerMetre;
      expect(toOctave / scale).toBeCloseTo(0.5, 3);
    }
  });

  it("narrows by the twelfth root of two from fret to fret", () => {
    const width = (fret: number) => apart(...cellOf(right, 3, fret).path);
    expect(width(5) / width(4)).toBeCloseTo(2 ** (-1 / 12), 3);
  });

  it("lays the nut to the left and the bass below for the right hand", () => {
    expect(middle(cellOf(right, 1, 1))[0]).toBeLessThan(middle(cellOf(right, 1, 12))[0]);
    expect(middle(cellOf(right, 6, 5))[1]).toBeGreaterThan(middle(cellOf(right, 1, 5))[1]);
  });

  it("lays the nut to the right and the bass still below for the left hand", () => {
    expect(middle(cellOf(left, 1, 1))[0]).toBeGreaterThan(middle(cellOf(left, 1, 12))[0]);
    expect(middle(cellOf(left, 6, 5))[1]).toBeGreaterThan(middle(cellOf(left, 1, 5))[1]);
  });

  it("draws the left-handed board as the mirror image of its twin", () => {
    for (const fret of [0, 7, 19]) {
      const [x, y] = middle(cellOf(right, 4, fret));
      const [mx, my] = middle(cellOf(left, 4, fret));
      expect(mx).toBeCloseTo(1000 - x, 6);
      expect(my).toBeCloseTo(y, 6);
    }
  });

  it("finds the note under a finger, and none beside the board", () => {
    for (const cell of right.cells) expect(cellAt(right, middle(cell))).toBe(cell);
    expect(cellAt(right, [500, 2])).toBeNull();
  });

  it("grows until a lane is as wide as asked", () => {
    const large = boardGrid(exampleBoard("low-radial"), "right", 800, margins, 44);
    expect(large.lanePx).toBeCloseTo(44, 9);
    expect(large.widthPx).toBeGreaterThan(1600);
  });
});

describe("stepOnBoard", () => {
  const grid = { strings: 6, frets: 22 };

  it("follows the board as it is seen, for either hand", () => {
    const at = { string: 3, fret: 5 };
    expect(stepOnBoard(grid, "right", at, "ArrowRight")).toEqual({ string: 3, fret: 6 });
    expect(stepOnBoard(grid, "left", at, "ArrowRight")).toEqual({ string: 3, fret: 4 });
    expect(stepOnBoard(grid, "left", at, "ArrowDown")).toEqual({ string: 4, fret: 5 });
  });

  it("stops at the edges, jumps to nut and last fret, and leaves other keys alone", () => {
    expect(stepOnBoard(grid, "right", { string: 1, fret: 0 }, "ArrowUp")).toEqual({ string: 1, fret: 0 });
    expect(stepOnBoard(grid, "right", { string: 1, fret: 0 }, "ArrowLeft")).toEqual({ string: 1, fret: 0 });
    expect(stepOnBoard(grid, "right", { string: 2, fret: 7 }, "End")).toEqual({ string: 2, fret: 22 });
    expect(stepOnBoard(grid, "right", { string: 2, fret: 7 }, "Home")).toEqual({ string: 2, fret: 0 });
    expect(stepOnBoard(grid, "right", { string: 2, fret: 7 }, "a")).toBeNull();
  });
});
