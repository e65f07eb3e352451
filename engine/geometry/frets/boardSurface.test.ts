import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { parallelBoard } from "./board.fixture.ts";
import { boardLayout } from "./boardLayout.ts";
import type { BoardSpec } from "./boardSpec.ts";
import { type BoardShape, coneHeight, heightsUnderStrings, unevenUnderStrings } from "./boardSurface.ts";

const layout = opened(boardLayout(parallelBoard));
const slant = 0.009;
const alongCentre = Math.sqrt(0.648 ** 2 - slant ** 2);
const lastFret = alongCentre * (1 - 2 ** (-20 / 12));
const heights = (shape: BoardShape, of: BoardSpec = parallelBoard, fretHeight = 0) =>
  opened(heightsUnderStrings(opened(boardLayout(of)), of, shape, fretHeight));

describe("the board under the strings", () => {
  it("is flat without a radius, and its crowns stand one fret higher", () => {
    for (const { board, crown, crownAtSaddle } of heights(
      { radius: null, fallAway: null },
      parallelBoard,
      0.0011,
    )) {
      expect([...board]).toEqual(Array(21).fill(0));
      expect([...crown]).toEqual(Array(21).fill(0.0011));
      expect(crownAtSaddle).toBe(0.0011);
    }
  });

  it("with one radius all along is the circle, to the last digit", () => {
    const [first] = heights({ radius: { nut: 0.4, end: 0.4 }, fallAway: null });
    expect(first!.board[0]).toBeCloseTo(Math.sqrt(0.4 ** 2 - 0.019 ** 2) - 0.4, 15);
    expect(coneHeight(0.4, 0, 0.03)).toBeCloseTo(Math.sqrt(0.4 ** 2 - 0.03 ** 2) - 0.4, 15);
  });

  it("is straight under every string where strings and cone fan out from one point, and only there", () => {
    // the strings meet so far behind the nut; so must the lines of the cone: radius over growth
    const point = (0.019 * alongCentre) / slant;
    const nut = 0.4;
    const fanned = { nut, end: nut * (1 + lastFret / point) };
    for (const gap of opened(unevenUnderStrings(layout, parallelBoard, fanned)))
      expect(Math.abs(gap)).toBeLessThan(1e-16);
    const cylinder = opened(unevenUnderStrings(layout, parallelBoard, { nut, end: nut }));
    // A cylinder bulges under strings that spread: y'^2 L^2 / 8 R, 7.4 um here.
    const bulge = ((slant / alongCentre) * lastFret) ** 2 / (8 * nut);
    expect(Math.abs(cylinder[0]! / bulge - 1)).toBeLessThan(0.02);
    expect(Math.abs(cylinder[2]!)).toBeLessThan(Math.abs(cylinder[0]!));
  });

  it("differs from circles of a mere linear radius by less than a micrometre, which no maker can tell", () => {
    const growth = 0.34;
    for (const radius of [0.4, 0.5, 0.62]) {
      const y = 0.029;
      const arc = Math.sqrt(radius ** 2 - y ** 2) - radius;
      const gap = coneHeight(radius, growth, y) - arc;
      expect(gap).toBeGreaterThan(0);
      expect(gap).toBeLessThan(1e-6);
      // leading term of both closed forms' difference
      expect(Math.abs(gap / ((growth ** 2 * y ** 4) / (8 * radius ** 3)) - 1)).toBeLessThan(0.02);
    }
  });

  it("falls straight from its fret to the depth at the board's end", () => {
    const [first] = heights({ radius: null, fallAway: { fromFret: 14, depth: 4e-4 } });
    const { fretDistance, scaleLength, nut, saddle } = layout.strings[0];
    for (let f = 0; f <= 14; f++) expect(first!.board[f]).toBeCloseTo(0, 18);
    const end = (scaleLength * layout.bassEdge[1][0]) / (saddle[0] - nut[0]);
    const share = (fretDistance[20]! - fretDistance[14]!) / (end - fretDistance[14]!);
    expect(first!.board[20]).toBeCloseTo(-4e-4 * share, 15);
    const half = heights({ radius: null, fallAway: { fromFret: 14.5, depth: 4e-4 } });
    expect(half[0]!.board[15]).toBeLessThan(0);
    expect(half[0]!.board[14]).toBeCloseTo(0, 18);
  });

  it("is refused where the cross radius does not reach the outer strings or the fall begins past the board", () => {
    const told = (shape: BoardShape) => {
      const made = heightsUnderStrings(layout, parallelBoard, shape, 0.001);
      return made.ok ? "ok" : made.reason;
    };
    expect(told({ radius: { nut: 0.015, end: 0.015 }, fallAway: null })).toBe("board-shape");
    expect(told({ radius: { nut: Number.NaN, end: 0.4 }, fallAway: null })).toBe("board-shape");
    expect(told({ radius: null, fallAway: { fromFret: 20, depth: 1e-3 } })).toBe("board-shape");
  });
});
