import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { designString } from "#engine/strings";
import { boardAnchor } from "./boardAnchor.ts";
import { randomBody } from "./denseSystem.fixture.ts";
import type { FarEnd } from "./endsSystem.ts";
import { noteBoard } from "./noteBoard.ts";
import type { NoteBoardInput } from "./noteBoardInput.ts";

const frets = 9;
/** A stiff top: no dead spot of its own. */
const random = randomBody(21, 30, 95, 900);
/** A neck at the note of fret 4, which hardly moves the crown. */
const neckFrequency = 196 * 2 ** (4 / 12);
const body = {
  ...random,
  omega: Float64Array.of(...random.omega, 2 * Math.PI * neckFrequency),
  q: Float64Array.of(...random.q, 50),
  shape: Float64Array.of(...random.shape.map((v) => 0.1 * v), 0.02, 0, 0),
  pressure: Float64Array.of(...random.pressure, 0.002),
};
const count = body.omega.length;
const input: NoteBoardInput = {
  strings: [
    {
      string: 3,
      frequency: 196,
      design: opened(designString({ kind: "plain", diameter: 0.42e-3, material: "steel" })),
      scaleLength: 0.65,
      fretDistance: Float64Array.from({ length: frets + 1 }, (_, f) => 0.65 * (1 - 2 ** (-f / 12))),
    },
  ],
  bodies: [body],
  frets,
  validToHz: 500,
};

/** Frets move by the neck's mode alone: along z and across by so much (kg^-1/2) under fret 4, less beside it. */
function far(size: number): readonly (readonly FarEnd[])[] {
  return [
    Array.from({ length: frets + 1 }, (_, fret) => {
      const shape = new Float64Array(2 * count);
      const own = size * Math.exp(-(((fret - 4) / 4) ** 2));
      shape.set([own, own], 2 * (count - 1));
      return { shape };
    }),
  ];
}

const still = opened(noteBoard(input, quiet));

describe("a note board whose frets yield", () => {
  it("is that of rigid frets where they do not move", () => {
    const none = opened(noteBoard({ ...input, farEnds: far(0) }, quiet));
    none.noteBoard.forEach((row, i) => {
      const rigid = still.noteBoard[i]!;
      expect(row.levelDb!).toBeCloseTo(rigid.levelDb!, 3);
      expect(row.decayS! / rigid.decayS!).toBeCloseTo(1, 3);
      expect(row.wolfIndex).toBe(rigid.wolfIndex);
    });
  });

  it("has a dead spot where the neck moves most at the note's own frequency", () => {
    const moving = opened(noteBoard({ ...input, farEnds: far(0.7) }, quiet));
    const dead = moving.noteBoard.map((row) => row.deadIndex!);
    expect(dead.indexOf(Math.max(...dead))).toBe(4);
    expect(dead[4]!).toBeGreaterThan(1.3 * still.noteBoard[4]!.deadIndex!);
    // the fundamental dies; the other partials keep what decay the board reads
    const first = (board: typeof still) =>
      Math.min(...board.noteBoard[4]!.partials.filter(({ n }) => n === 1).map(({ t60S }) => t60S!));
    expect(first(moving)).toBeLessThan(0.2 * first(still));
    expect(moving.noteBoard[4]!.wolfIndex).toBe(still.noteBoard[4]!.wolfIndex);
  });

  it("lends a quick board what yielding frets did: on the same body the levels and decays are its own", () => {
    const exact = opened(noteBoard({ ...input, farEnds: far(0.7) }, quiet));
    const quick = opened(noteBoard({ ...input, quick: true }, quiet));
    const anchor = boardAnchor(exact, quick);
    const lent = opened(noteBoard({ ...input, quick: true, anchor }, quiet));
    lent.noteBoard.forEach((row, i) => {
      expect(row.levelDb!).toBeCloseTo(exact.noteBoard[i]!.levelDb!, 9);
      expect(row.decayS!).toBeCloseTo(exact.noteBoard[i]!.decayS!, 9);
      expect(row.deadIndex!).toBeCloseTo(exact.noteBoard[i]!.deadIndex!, 9);
    });
  });

  it("refuses far ends that do not fit, or that the quick way would pass over", () => {
    const short = [far(1)[0]!.slice(0, frets)];
    for (const [wrong, word] of [
      [{ farEnds: short }, "far ends for frets"],
      [{ farEnds: [] }, "far ends of 0"],
      [{ farEnds: far(1), quick: true }, "quick"],
      [{ farEnds: [far(1)[0]!.map(() => ({ shape: new Float64Array(2) }))] }, "numbers"],
      [{ anchor: boardAnchor(still, still) }, "anchor"],
    ] as const)
      expect(noteBoard({ ...input, ...wrong }, quiet)).toMatchObject({
        ok: false,
        reason: "bad-board",
        detail: expect.stringContaining(word),
      });
  });
});
