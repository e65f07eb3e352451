import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { designString } from "../designString.ts";
import { noteFrequency } from "../pitch.ts";
import { stringState, tension } from "../tension.ts";
import { balancedSet, type SetPlace, type SetTarget } from "./balancedSet.ts";
import { makeableStrings } from "./makeableStrings.ts";
import { nearestThatWorks } from "./nearestThatWorks.ts";

const inch = 0.0254;
const makeable = makeableStrings({
  wrap: "phosphor-bronze",
  coreShape: "hex",
  heaviestPlain: 0.02 * inch,
});
const touch = { place: 0.12, displacement: 1.5e-3 };
const places = (notes: readonly string[], scaleLength = 0.648): SetPlace[] =>
  notes.map((note, i) => ({ string: i + 1, frequency: opened(noteFrequency(note)), scaleLength }));
const standard = places(["E4", "B3", "G3", "D3", "A2", "E2"]);
const chosen = (target: SetTarget, at = standard) => balancedSet(at, target, makeable, touch);

describe("the strings to choose from", () => {
  it("run from light to heavy without a gap of more than a fifth, plain then wound, the heaviest wrapped twice", () => {
    const weights = makeable.map(({ design }) => design.linearDensity);
    for (let i = 1; i < weights.length; i++) expect(weights[i]! / weights[i - 1]!).toBeLessThan(1.2);
    expect(makeable[0]!.construction).toMatchObject({ kind: "plain" });
    expect(makeable.at(-1)!.construction).toMatchObject({ kind: "wound", wraps: [{}, {}] });
    for (const { construction: c } of makeable)
      if (c.kind === "plain") expect(c.diameter).toBeLessThanOrEqual(0.02 * inch * 1.001);
  });
});

describe("a balanced set", () => {
  it("pulls alike on every string of standard tuning, all within a twentieth", () => {
    const set = chosen({ kind: "tension", tension: 120 });
    for (const s of set) {
      expect(s.why).toBeNull();
      expect(Math.abs(s.chosen!.tension / 120 - 1)).toBeLessThanOrEqual(0.05);
      expect(s.chosen!.tension).toBeCloseTo(
        tension(s.chosen!.design.linearDensity, s.scaleLength, s.frequency),
        9,
      );
    }
    expect(set.map((s) => s.chosen!.construction.kind)).toEqual([
      "plain",
      "plain",
      "wound",
      "wound",
      "wound",
      "wound",
    ]);
  });

  it("feels alike under the plucking finger where that is asked", () => {
    const feels = chosen({ kind: "feel", feel: 1200 }).map((s) => s.chosen!.feel);
    for (const f of feels) expect(Math.abs(f / 1200 - 1)).toBeLessThan(0.05);
  });

  it("follows a profile, string by string", () => {
    const tensions = [90, 100, 120, 130, 130, 110];
    chosen({ kind: "profile", tensions }).forEach((s, i) => {
      expect(s.target).toBe(tensions[i]);
      expect(Math.abs(s.chosen!.tension / tensions[i]! - 1)).toBeLessThan(0.05);
    });
  });

  it("takes no string that breaks or hangs slack, and says which end of the list it was left with", () => {
    const [light] = chosen({ kind: "tension", tension: 15 });
    expect(light).toMatchObject({ why: "lightest" });
    expect(stringState(light!.chosen!.design, light!.chosen!.tension)).toBe("holds");
    const set = chosen({ kind: "tension", tension: 900 });
    for (const s of set) {
      expect(s.why).toBe("heaviest");
      expect(s.chosen!.breakMargin).toBeGreaterThan(2 ** (4 / 12));
    }
  });

  it("takes none where everything would break, and says so", () => {
    const [high] = chosen({ kind: "tension", tension: 120 }, places(["A5"]));
    expect(high).toMatchObject({ chosen: null, why: "breaks" });
  });
});

describe("what works instead", () => {
  const wire = opened(designString({ kind: "plain", diameter: 0.012 * inch, material: "steel" }));

  it("is nothing for a string that holds", () => {
    expect(nearestThatWorks(wire, standard[0]!, makeable)).toBeNull();
  });

  it("is the highest note and the longest scale for a string that would break: a step further breaks again", () => {
    const [place] = places(["C5"]);
    const found = nearestThatWorks(wire, place!, makeable)!;
    const state = (note: number, length: number): string =>
      stringState(wire, tension(wire.linearDensity, length, 440 * 2 ** ((note - 69) / 12)));
    expect(state(found.note!, 0.648)).toBe("holds");
    expect(state(found.note! + 1, 0.648)).toBe("breaks");
    expect(state(72, found.scaleLength! * 0.9999)).toBe("holds");
    expect(state(72, found.scaleLength! * 1.0001)).toBe("breaks");
  });

  it("is the lowest note and a heavier string for one that would hang slack", () => {
    const [place] = places(["C3"]);
    const found = nearestThatWorks(wire, place!, makeable)!;
    const pull = (note: number): number => tension(wire.linearDensity, 0.648, 440 * 2 ** ((note - 69) / 12));
    expect(stringState(wire, pull(found.note!))).toBe("holds");
    expect(stringState(wire, pull(found.note! - 1))).toBe("slack");
    const heavier = found.string!.design;
    expect(heavier.linearDensity).toBeGreaterThan(wire.linearDensity);
    expect(stringState(heavier, tension(heavier.linearDensity, 0.648, place!.frequency))).toBe("holds");
  });

  it("is no string where none on the list holds", () => {
    const [place] = places(["A5"]);
    expect(nearestThatWorks(wire, place!, makeable)!.string).toBeNull();
  });
});
