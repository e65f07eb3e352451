import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Build, checkInstrument } from "#engine/instrument";
import { type BridgeModes, type NoteBoardInput, noteBoard } from "#engine/notes";
import { opened, quiet } from "#engine/numerics";
import { instrumentGeometry } from "./geometry.ts";
import { boardStrings } from "./live/boardStrings.ts";
import { stringSet } from "./stringSet.ts";
import { tuningBoards, tuningWords } from "./tuningBoards.ts";

const text = readFileSync(new URL("../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
const checked = checkInstrument(text);
if (!checked.ok) throw new Error("the example is refused");
const { build, plan } = checked;
const geometry = opened(instrumentGeometry(build, plan));

/** Modes at 90, 180 and 400 Hz, the first on E2 flat of low-tuned strings. */
const body: BridgeModes = {
  omega: Float64Array.of(90, 180, 400).map((f) => 2 * Math.PI * f),
  q: Float64Array.of(25, 30, 40),
  shape: Float64Array.of(1.5, 0.2, 0, 2, 0.3, 0, 1, -0.5, 0),
  residual: new Float64Array(9),
  pressure: Float64Array.of(0.02, 0.03, -0.02),
};
const response = {
  name: ["main air", "main top", null],
  frequency: Float64Array.of(90, 180, 400),
} as Parameters<typeof tuningBoards>[1];

function inputFor(tuned: Build): NoteBoardInput {
  const strings = boardStrings(geometry, opened(stringSet(tuned)));
  return {
    strings,
    bodies: strings.map(() => body),
    frets: 16,
    validToHz: 400,
    decayValidToHz: 400,
    a4: 440,
  };
}

const input = inputFor(build);
const board = opened(noteBoard(input, quiet));
const told = opened(tuningBoards(build, response, input, board, quiet));

describe("further tunings on one body", () => {
  it("are those of the document, each with its verdicts", () => {
    expect(told.map(({ name }) => name)).toEqual(["C suspended", "open F"]);
    for (const t of told) expect(t.verdicts.map(({ id }) => id)).toEqual(["wolf-risk", "evenness"]);
  });

  it("sound as an instrument whose strings are tuned so from the first, though kept strings are not computed anew", () => {
    for (const [i, t] of told.entries()) {
      const { notes, frequencies } = build.tunings[i + 1]!;
      const strings = build.strings.map((s, k) => ({
        ...s,
        note: notes[k]!,
        frequency: frequencies[k]!,
      }));
      const anew = opened(noteBoard(inputFor({ ...build, strings }), quiet));
      expect(t.evenness).toEqual(anew.evenness);
      const indices = anew.noteBoard.map(({ wolfIndex }) => wolfIndex ?? 0);
      expect(t.wolfNotes).toBe(indices.filter((w) => w >= 1).length);
      expect(t.worstWolf!.wolfIndex).toBe(Math.max(...indices));
      expect(t.evenness.levelSpreadDb).not.toBe(board.evenness.levelSpreadDb);
    }
  });

  it("are told in a sentence each, with the figures of their verdicts", () => {
    const words = tuningWords(told);
    expect(words).toHaveLength(2);
    told.forEach((t, i) => {
      expect(words[i]).toContain(`${t.name}: ${t.wolfNotes === 0 ? "no" : t.wolfNotes} wolf note`);
      expect(words[i]).toContain(`${t.worstWolf!.note} on string ${t.worstWolf!.string}`);
      expect(words[i]).toContain(`${t.evenness.levelSpreadDb!.toFixed(0)} dB`);
    });
  });

  it("carry the reason for which a verdict is meant", () => {
    const meant = [{ verdict: "wolf-risk", reason: "a bass that growls is wanted" }];
    const marked = opened(tuningBoards({ ...build, meant }, response, input, board, quiet));
    for (const t of marked) expect(t.verdicts[0]!.meant).toBe("a bass that growls is wanted");
  });

  it("are none where the document has none", () => {
    const alone = { ...build, tunings: build.tunings.slice(0, 1) };
    expect(opened(tuningBoards(alone, response, input, board, quiet))).toEqual([]);
  });

  it("are given up when the work is called off", () => {
    const off = { progress: () => {}, cancelled: () => true };
    expect(tuningBoards(build, response, input, board, off)).toMatchObject({ reason: "cancelled" });
  });
});
