import { describe, expect, it } from "vitest";
import { isDead, isWolf } from "#engine/notes";
import { inkShare, middleOf, noteChanges, noteKey, sayChanges } from "./noteInk.ts";
import { note } from "./views.fixture.ts";

describe("inkShare", () => {
  it("says 6 dB and twice the decay by the same step of ink", () => {
    const [loud, middle] = [inkShare(76, "level", 70), inkShare(70, "level", 70)];
    expect(inkShare(10, "decay", 5) / inkShare(5, "decay", 5)).toBeCloseTo(loud / middle, 12);
    expect(loud / middle).toBeCloseTo(1.75, 12);
  });

  it("gives a wolf and a dead note at their limits the same ink", () => {
    expect(inkShare(1, "wolf", 1)).toBeCloseTo(inkShare(2, "dead", 1), 12);
  });

  it("never vanishes and never touches the neighbouring string", () => {
    for (const value of [-400, 0, 30, 400]) {
      expect(inkShare(value, "level", 70)).toBeGreaterThan(0.02);
      expect(inkShare(value, "level", 70)).toBeLessThan(0.8);
    }
  });
});

describe("marks", () => {
  it("begin at the limits and spare what is not foreseen", () => {
    expect([0.99, 1].map((wolfIndex) => isWolf(note(1, 1, { wolfIndex })))).toEqual([false, true]);
    expect([1.99, 2].map((deadIndex) => isDead(note(1, 1, { deadIndex })))).toEqual([false, true]);
    expect(isWolf(note(1, 1, { wolfIndex: null }))).toBe(false);
  });
});

describe("middleOf", () => {
  it("is the median of what is foreseen", () => {
    const rows = [60, 80, null, 66].map((levelDb, i) => note(1, i, { levelDb }));
    expect(middleOf(rows, "level")).toBe(66);
  });
});

describe("noteChanges", () => {
  const before = [
    note(1, 0, { levelDb: 70, decayS: 4 }),
    note(1, 1, { levelDb: null }),
    note(1, 2, { levelDb: 70 }),
  ];
  const after = [
    note(1, 0, { levelDb: 68.5, decayS: 5 }),
    note(1, 1, { levelDb: 70 }),
    note(1, 2, { levelDb: 70.4 }),
  ];

  it("tells steps in dB and in shares of the decay, with their way", () => {
    expect(noteChanges(before, after, "level").get("1/0")).toMatchObject({ step: -1.5, way: -1 });
    expect(noteChanges(before, after, "decay").get("1/0")).toMatchObject({ step: 0.25, way: 1 });
  });

  it("does not count what nobody would notice, and leaves out what only one side foresees", () => {
    const changes = noteChanges(before, after, "level");
    expect(changes.get("1/2")?.way).toBe(0);
    expect(changes.has(noteKey({ string: 1, fret: 1 }))).toBe(false);
  });
});

describe("sayChanges", () => {
  it("counts up and down, and names the notes that gained or lost a mark", () => {
    const before = [note(6, 3, { note: "F2", wolfIndex: 1.4 }), note(6, 4), note(1, 0, { levelDb: 60 })];
    const after = [
      note(6, 3, { note: "F2", wolfIndex: 0.6 }),
      note(6, 4, { note: "F#2", wolfIndex: 1.2 }),
      note(1, 0, { levelDb: 64 }),
    ];
    expect(sayChanges(before, after, "level")).toBe(
      "1 note louder, 0 notes quieter by 1 dB or more; now wolf: F#2 on string 6; no longer wolf: F2 on string 6.",
    );
  });

  it("says so when nothing changed", () => {
    expect(sayChanges([note(1, 0)], [note(1, 0)], "decay")).toBe("No note changed by 10 %.");
  });
});
