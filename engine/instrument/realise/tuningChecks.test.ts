import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { designString, noteFrequency, tension } from "#engine/strings";
import { type Change, changedExamples } from "../examples.fixture.ts";
import type { Issue } from "../issue.ts";

const { checked, good } = changedExamples((name) =>
  readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
);

function stops(name: string, ...changes: readonly Change[]): readonly Issue[] {
  const result = checked(name, ...changes);
  return result.ok ? [] : result.issues;
}

const tuned = (...notes: string[]): Change => [["strings", "tunings"], [{ name: "trial", notes }]];

describe("tunings", () => {
  it("carry the set's own notes first, then the others, at the document's reference", () => {
    const { build } = good("low-radial", [["strings", "tuningReference"], "432 Hz"]);
    expect(build.tunings.map(({ name }) => name)).toEqual(["D standard", "C suspended", "open F"]);
    expect(build.tunings[0]!.frequencies).toEqual(build.strings.map(({ frequency }) => frequency));
    // A3 is an octave below the reference (ISO16).
    expect(build.tunings[2]!.frequencies[1]).toBeCloseTo(216, 10);
    expect(build.tunings[2]!.documentPath).toBe("strings.tunings[1]");
  });

  it("without a name are called by their notes, lowest first", () => {
    const { build } = good("low-radial", [["strings", "tuningName"], undefined]);
    expect(build.tunings[0]!.name).toBe("D2 G2 C3 F3 A3 D4");
  });

  it("that would break a string name it and the nearest note that holds", () => {
    const [issue, ...more] = stops("cross-braced", tuned("E5", "B3", "G3", "D3", "A2", "E2"));
    expect(more).toEqual([]);
    expect(issue).toMatchObject({
      code: "string-breaks",
      path: "strings.tunings[0].notes[0]",
      found: '"E5"',
    });
    expect(issue!.message).toMatch(/"trial" string 1 would break: E5 on 647\.\d mm/);
    const near = JSON.parse(issue!.example!) as string;
    // Independent of the check: a semitone above the named note holds, a semitone above that does not.
    const string = good("cross-braced").build.strings[0]!;
    const design = designString(string.construction);
    if (!design.ok) throw new Error(design.detail);
    const share = (semitones: number): number => {
      const open = noteFrequency(near);
      if (!open.ok) throw new Error(open.detail);
      const f = open.value * 2 ** (semitones / 12);
      return tension(design.value.linearDensity, string.scaleLength, f) / design.value.breakingForce;
    };
    expect(share(1)).toBeLessThanOrEqual(1);
    expect(share(2)).toBeGreaterThan(1);
    good("cross-braced", tuned(near, "B3", "G3", "D3", "A2", "E2"));
  });

  it("that leave a string slack name it and the nearest note that does not", () => {
    const [issue, ...more] = stops("cross-braced", tuned("E4", "B3", "G3", "D3", "A2", "E1"));
    expect(more).toEqual([]);
    expect(issue).toMatchObject({ code: "string-slack", path: "strings.tunings[0].notes[5]" });
    expect(issue!.message).toMatch(/string 6 would hang slack: E1/);
    const near = JSON.parse(issue!.example!) as string;
    good("cross-braced", tuned("E4", "B3", "G3", "D3", "A2", near));
  });

  it("are held at the set's own notes too, when a gauge does not suit the scale", () => {
    const thin: Change = [
      ["strings", "set", 5, "construction"],
      { kind: "plain", diameter: "0.010 in", material: "steel" },
    ];
    const issue = stops("cross-braced", thin).find(({ code }) => code === "string-slack");
    expect(issue).toMatchObject({ path: "strings.set[5].note", found: '"E2"' });
    expect(issue!.remedy).toMatch(/heavier string/);
  });

  it("of the usual kind pass on every example: dropped, open, raised by a tone (common practice, no source)", () => {
    for (const notes of ["D4 A3 F#3 D3 A2 D2", "D4 B3 G3 D3 G2 D2", "D4 A3 G3 D3 A2 D2", "E4 C4 G3 C3 G2 C2"])
      for (const name of ["cross-braced", "small-ladder"]) good(name, tuned(...notes.split(" ")));
  });
});

describe("gauges", () => {
  it("too thick for their places are refused with the spread that has room", () => {
    const crowd: Change = [["strings", "spreadAtNut"], "11 mm"];
    // The schema's own least is 20 mm; ten thick strings on that are too many.
    expect(stops("cross-braced", crowd)[0]).toMatchObject({ path: "strings.spreadAtNut" });
    const thick = {
      note: "E2",
      construction: {
        kind: "wound",
        core: "0.5 mm",
        coreShape: "round",
        wraps: [{ diameter: "0.8 mm", material: "phosphor-bronze" }],
      },
    };
    const ten: Change[] = [
      [["strings", "set"], Array.from({ length: 10 }, () => thick)],
      [["strings", "tunings"], undefined],
      [["strings", "spreadAtNut"], "20 mm"],
    ];
    const issue = stops("cross-braced", ...ten).find(({ code }) => code === "strings-touch");
    expect(issue).toMatchObject({ path: "strings.spreadAtNut", found: "20.0 mm" });
    const roomy: Change = [["strings", "spreadAtNut"], JSON.parse(issue!.example!) as string];
    expect(stops("cross-braced", ...ten, roomy).filter(({ path }) => path === "strings.spreadAtNut")).toEqual(
      [],
    );
  });
});
