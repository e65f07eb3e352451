import { describe, expect, it } from "vitest";
import { noteWords, spokenNote } from "./noteWords.ts";
import { note } from "./views.fixture.ts";

const modes = [{ frequencyHz: 92, name: "main air" }];

describe("noteWords", () => {
  it("prefers the sampled range to the model's own", () => {
    const row = note(6, 3);
    expect(noteWords(row, null, []).level).toBe("70 dB ± 3");
    expect(noteWords(row, { levelDb: 1.6, decayS: 1, wolfIndex: 0.1 }, []).level).toBe("70 dB ± 2");
    expect(noteWords(row, { levelDb: 1.6, decayS: 1, wolfIndex: 0.1 }, []).decay).toBe("5.0 s, 4.2 to 6.0");
  });

  it("says what is not foreseen instead of a figure, and why", () => {
    const words = noteWords(
      note(1, 22, { levelDb: null, foreseen: false, reason: "above the range" }),
      null,
      [],
    );
    expect(words.level).toBe("not foreseen");
    expect(words.reason).toBe("above the range");
  });

  it("names the mode that a note feels and by how much it is off", () => {
    const blame = { modeIndex: 0, partial: 2, centsOff: -12.4, couplingAtCoincidence: 1 };
    expect(noteWords(note(6, 3, { blame }), null, modes).blame).toBe(
      "main air 92 Hz, partial 2, 12 cents under it",
    );
  });

  it("does not write the limit for a note just under it", () => {
    expect(noteWords(note(6, 3, { wolfIndex: 0.964 }), null, []).wolf).toBe("0.96");
    expect(noteWords(note(6, 3, { wolfIndex: 1.0 }), null, []).wolf).toBe("1.0, a wolf");
  });

  it("marks a wolf in words", () => {
    expect(noteWords(note(6, 3, { wolfIndex: 1.24 }), null, []).wolf).toBe("1.2, a wolf");
  });
});

describe("spokenNote", () => {
  it("says the chosen figure first and all of them", () => {
    const spoken = spokenNote(noteWords(note(6, 3), null, []), "decay");
    expect(spoken).toBe(
      "E2, string 6, fret 3: decay 5.0 s, 3.3 to 7.5; level 70 dB ± 3; wolf index 0.2; dead index 1.0",
    );
  });
});
