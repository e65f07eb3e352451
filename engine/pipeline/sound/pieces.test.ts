import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { type PieceKind, piece } from "./pieces.ts";

function buildOf(name: string) {
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error(name);
  return checked.build;
}

const cases = ["low-radial", "cross-braced", "small-ladder"].flatMap((name) => {
  const build = buildOf(name);
  return build.tunings.map((tuning, k) => ({ name: `${name}, ${tuning.name}`, build, k }));
});

describe.each(cases)("pieces on $name", ({ build, k }) => {
  const open = build.tunings[k]!.frequencies;
  const lowest = Math.min(...open);
  const semitones = ({ string, fret }: { string: number; fret: number }) =>
    Math.round(12 * Math.log2(open[build.strings.findIndex((s) => s.string === string)]! / lowest) + fret);

  it("a scale is the major scale over two octaves from the lowest string", () => {
    expect(piece(build, "scale", k).notes.map(semitones)).toEqual([
      0, 2, 4, 5, 7, 9, 11, 12, 14, 16, 17, 19, 21, 23, 24,
    ]);
  });

  it("a chord has one note of root, third or fifth on every string, and rises", () => {
    const { notes } = piece(build, "chord", k);
    expect(new Set(notes.map(({ string }) => string)).size).toBe(build.strings.length);
    for (const note of notes) expect([0, 4, 7]).toContain(semitones(note) % 12);
    expect(notes.map(({ onset }) => onset)).toEqual(notes.map(({ onset }) => onset).sort((a, b) => a - b));
  });

  it.each<PieceKind>(["scale", "chord", "phrase"])(
    "a %s lies on the board, each string stopped when it is plucked again",
    (kind) => {
      const { notes, seconds } = piece(build, kind, k);
      for (const { string, fret, onset, stop } of notes) {
        expect(fret).toBeGreaterThanOrEqual(0);
        expect(fret).toBeLessThanOrEqual(build.board.frets);
        expect(onset).toBeLessThan(seconds - 2);
        const next = notes.filter((n) => n.string === string && n.onset > onset).map((n) => n.onset);
        expect(stop).toBe(next.length === 0 ? null : Math.min(...next));
      }
    },
  );

  it("the phrase keeps within the octave and a bit that a hand reaches", () => {
    const { notes } = piece(build, "phrase", k);
    expect(notes).toHaveLength(21);
    expect(Math.max(...notes.map(({ fret }) => fret))).toBeLessThanOrEqual(12);
  });
});
