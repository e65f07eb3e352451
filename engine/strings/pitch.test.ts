import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { nearestNote, noteFrequency, noteName, parseNote, pitchOf } from "./pitch.ts";

describe("names of notes", () => {
  it("are read with sharps, flats and printed accidentals; the octave belongs to the letter", () => {
    const read = (name: string) => opened(parseNote(name));
    expect([read("A4"), read("C4"), read("C#4"), read("Bb3"), read("C-1")]).toEqual([69, 60, 61, 58, 0]);
    expect([read("B♭3"), read("F♯2"), read("C𝄪4"), read("E𝄫4")]).toEqual([58, 42, 62, 62]);
    expect([read("B#3"), read("Cb4")]).toEqual([60, 59]);
  });

  for (const bad of ["", "H4", "e2", "A", "A#b3", "A10", "4A", "A 4", "Bbb b3"])
    it(`"${bad}" is refused`, () => {
      expect(parseNote(bad)).toMatchObject({ ok: false, reason: "not-a-note" });
      expect(noteFrequency(bad).ok).toBe(false);
    });

  it("round-trip over the whole range", () => {
    for (let n = 0; n < 128; n++) {
      expect(opened(parseNote(noteName(n)))).toBe(n);
      expect(nearestNote(pitchOf(n, 432), 432)).toBe(n);
    }
  });
});
