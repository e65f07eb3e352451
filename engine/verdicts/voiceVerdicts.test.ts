import { describe, expect, it } from "vitest";
import { frequencySigma, honestAccuracy } from "./accuracy.ts";
import { evenness, type NoteStrength } from "./evenness.ts";
import { fairness } from "./fairness.ts";
import { mainModePlacing } from "./mainModePlacing.ts";
import { wolfRisk } from "./wolfRisk.ts";

const cents = (f: number, c: number) => f * 2 ** (c / 1200);

describe("where a main mode sits", () => {
  const g2 = { note: "G2", frequency: 97.999, role: "open string" as const };
  const a2 = { note: "A2", frequency: 110, role: "scale" as const };
  const air = (frequency: number) =>
    mainModePlacing({ name: "main air", frequency, knowledge: "catalogue", played: [g2, a2] });

  it("is watched within 50 cents of an open string and 25 of a scale note, and no further", () => {
    const levels = [
      cents(97.999, 49),
      cents(97.999, 51),
      cents(97.999, -49),
      cents(110, -24),
      cents(110, 26),
    ];
    expect(levels.map((f) => air(f).level)).toEqual(["watch", "good", "watch", "watch", "good"]);
    expect(air(97.999).why).toContain("on G2 (open string)");
  });

  it("names the nearest played note with its cents, and the range of one sigma", () => {
    const verdict = air(cents(97.999, 80));
    expect(verdict.computed).toContain("80 cents above G2 (open string)");
    expect(verdict.sureness).toContain("3.5 %");
    expect(verdict.figures["offCents"]).toBeCloseTo(80, 6);
    expect(verdict.id).toBe("main-air-placing");
  });

  it("says that the note is not yet known when the range is wider than a semitone", () => {
    const top = (knowledge: "catalogue" | "box knocked") =>
      mainModePlacing({ name: "main top", frequency: 180, knowledge, played: [g2] }).sureness;
    expect(top("catalogue")).toContain("not yet known");
    expect(top("box knocked")).not.toContain("not yet known");
  });

  it("watches a miss of the target", () => {
    const aimed = (frequency: number) =>
      mainModePlacing({
        name: "main top",
        frequency,
        knowledge: "catalogue",
        played: [],
        target: { low: 170, high: 180 },
      });
    expect(aimed(175).level).toBe("good");
    expect(aimed(186)).toMatchObject({ level: "watch", why: "it lies 6 Hz above the range aimed at" });
  });
});

describe("wolf notes", () => {
  const note = (wolfIndex: number) => ({
    string: 5,
    fret: 4,
    note: "B2",
    wolfIndex,
    mode: { name: "main top" as const, frequency: 124 },
  });

  it("are watched from an index of 1, named with place and mode; 0.7 to 1 is named as near", () => {
    expect(wolfRisk([note(0.99)])).toMatchObject({ level: "good", figures: { wolfNotes: 0, nearNotes: 1 } });
    const verdict = wolfRisk([note(0.2), note(1)]);
    expect(verdict.level).toBe("watch");
    expect(verdict.why).toBe(
      "B2 (string 5, fret 4) may beat or stutter, because the string trades its energy with the main top mode at 124 Hz",
    );
  });

  it("say so when no note was foreseen", () => {
    expect(wolfRisk([]).computed).toBe("no note was foreseen");
  });
});

describe("evenness", () => {
  const note = (levelDb: number | null, deadIndex: number | null, fret = 3): NoteStrength => ({
    string: 4,
    fret,
    note: "F3",
    levelDb,
    deadIndex,
  });

  it("is watched above 12 dB of spread or at a note that dies in half the time, and no further", () => {
    expect(evenness({ notes: [note(70, 1)], levelSpreadDb: 12 }).level).toBe("good");
    expect(evenness({ notes: [note(70, 1), note(58, 1)], levelSpreadDb: 12.1 }).level).toBe("watch");
    expect(evenness({ notes: [note(70, 1.99)], levelSpreadDb: 5 }).level).toBe("good");
    expect(evenness({ notes: [note(70, 2)], levelSpreadDb: 5 }).level).toBe("watch");
  });

  it("takes the maker's own range in place of the 12 dB", () => {
    const board = { notes: [note(70, 1), note(57, 1)], levelSpreadDb: 13, target: { low: null, high: 15 } };
    expect(evenness(board)).toMatchObject({ level: "good", source: "the maker's target" });
  });

  it("counts only the notes whose level is foreseen, to fret 15", () => {
    const { computed } = evenness({
      notes: [note(70, 1), note(null, null), note(70, 1, 16)],
      levelSpreadDb: null,
    });
    expect(computed).toBe("no level is foreseen (1 of 2 notes to fret 15 foreseen); 0 dead notes");
  });
});

describe("fairness", () => {
  const curve = { name: "outline", faults: [], energyRatio: 1.1 };

  it("is good with no fault and little more bending than the least, and goes no further than watch", () => {
    expect(fairness([curve]).level).toBe("good");
    expect(fairness([{ ...curve, energyRatio: 1.6 }]).level).toBe("watch");
  });

  it("names each place where the curvature jumps or wavers", () => {
    const verdict = fairness([
      { ...curve, faults: [{ kind: "jump", x: 0.31, y: -0.128, part: "treble waist" }] },
      { name: "hole", faults: [{ kind: "waver", x: 0.4, y: 0.08, part: "lower edge" }], energyRatio: null },
    ]);
    expect(verdict.level).toBe("watch");
    expect(verdict.figures).toEqual({ jumps: 1, wavers: 1 });
    expect(verdict.why).toContain(
      "outline, treble waist: a jump 310 mm from the tail, 128 mm off the centreline",
    );
  });
});

describe("honest accuracy", () => {
  it("narrows as the wood becomes better known, for every mode and for Q", () => {
    for (const name of ["main air", "main top", "main back", null]) {
      const sigmas = (["catalogue", "board measured", "box knocked"] as const).map((k) =>
        frequencySigma(name, k),
      );
      expect(sigmas).toEqual([...sigmas].sort((a, b) => b - a));
      expect(new Set(sigmas).size).toBe(3);
    }
    expect(honestAccuracy("box knocked").qFactor).toBeLessThan(honestAccuracy("catalogue").qFactor);
  });
});
