import { describe, expect, it } from "vitest";
import { cursorStep } from "./cursorStep.ts";
import {
  type Curve,
  curvePath,
  decadesOf,
  frequencyAt,
  levelCurve,
  modeSigma,
  naturalNotes,
  pitchScale,
  placedNames,
  sayNote,
  tensOf,
  valueAt,
} from "./responseScale.ts";
import { squareView } from "./views.fixture.ts";

describe("pitchScale", () => {
  it("makes every octave as wide as the next, and back", () => {
    const x = pitchScale(60, 960, 0, 400);
    expect([60, 120, 240, 480, 960].map(x)).toEqual([0, 100, 200, 300, 400].map((v) => expect.closeTo(v, 9)));
    expect(frequencyAt(x(173), 60, 960, 0, 400)).toBeCloseTo(173, 9);
    expect(frequencyAt(-50, 60, 960, 0, 400)).toBe(60);
  });
});

describe("naturalNotes", () => {
  it("sets A4 at 440 Hz and C4 at 261.63 Hz (ISO 16 and equal temperament)", () => {
    const at = (name: string) => naturalNotes(60, 1000, 440).find(({ note }) => note === name)?.frequency;
    expect(at("A4")).toBe(440);
    expect(at("C4")).toBeCloseTo(261.626, 3);
  });

  it("moves with the document's A4 and names naturals only, seven to the octave", () => {
    expect(naturalNotes(60, 1000, 415).find(({ note }) => note === "A4")?.frequency).toBe(415);
    const octave = naturalNotes(261, 523, 440);
    expect(octave.map(({ note }) => note)).toEqual(["C4", "D4", "E4", "F4", "G4", "A4", "B4"]);
  });
});

describe("levelCurve", () => {
  it("is in dB over 20 micropascals: 0.2 Pa is 80 dB", () => {
    expect(levelCurve(squareView()).values[1]).toBeCloseTo(80, 9);
  });
});

describe("curves", () => {
  const curve: Curve = {
    frequency: Float64Array.of(60, 100, 200, 400),
    values: Float64Array.of(1, 10, 2, 500),
    to: 300,
  };

  it("end where they are not foreseen any more", () => {
    expect(
      curvePath(
        curve,
        (f) => f,
        (v) => v,
        1000,
      ),
    ).toBe("M60 1L100 10L200 2");
    expect(valueAt(curve, 350)).toBeNull();
    expect(valueAt(curve, 150)).toBeCloseTo(6, 9);
  });

  it("leave a gap below the scale's foot", () => {
    expect(
      curvePath(
        curve,
        (f) => f,
        (v) => v,
        5,
      ),
    ).toBe("M60 1M200 2");
  });

  it("take no account of values beyond their range when the scale is chosen", () => {
    expect(decadesOf([curve])).toEqual([1, 10]);
    expect(tensOf([{ ...curve, values: Float64Array.of(61, 99, 20, 500) }])).toEqual([40, 100]);
  });
});

describe("placedNames", () => {
  const x = (f: number) => f;
  const modes = [
    { index: 0, frequencyHz: 100, name: "neck" },
    { index: 1, frequencyHz: 104, name: "main air" },
    { index: 2, frequencyHz: 108, name: "cavity" },
    { index: 3, frequencyHz: 300, name: null },
  ];

  it("keeps names apart, gives main modes room first, and names nothing without a name", () => {
    const placed = placedNames(modes, x, [0, 1000], 6);
    expect(placed.map(({ index }) => index).sort()).toEqual([0, 1]);
    expect(placed.find(({ index }) => index === 1)?.row).toBe(0);
  });
});

describe("modeSigma", () => {
  it("is the sampled one where there is one, else the model's own for that mode", () => {
    expect(modeSigma(squareView(), 0)).toBeCloseTo(10, 9);
    const ranges = { modes: [{ frequencyHz: 3, q: 5 }, null], notes: [], worth: [], samples: 9 };
    expect(modeSigma(squareView({ ranges }), 0)).toBe(3);
  });
});

describe("sayNote", () => {
  it("gives the nearest note and the cents off it", () => {
    expect(sayNote(440, 440)).toBe("A4");
    expect(sayNote(440 * 2 ** (12 / 1200), 440)).toBe("A4 +12 cents");
    expect(sayNote(415.3 * 2 ** (-30 / 1200), 440)).toBe("G#4 −30 cents");
  });
});

describe("cursorStep", () => {
  const modes = [{ frequencyHz: 80 }, { frequencyHz: 160 }, { frequencyHz: 5000 }];
  const step = (pressed: string, at: number, wide = false) => cursorStep(pressed, wide, at, modes, 60, 1000);

  it("goes by quarters of a semitone, by semitones with Shift, and stays on the axis", () => {
    expect(step("ArrowRight", 440)! / 440).toBeCloseTo(2 ** (1 / 48), 12);
    expect(step("ArrowLeft", 440, true)! / 440).toBeCloseTo(2 ** (-1 / 12), 12);
    expect(step("ArrowRight", 1000)).toBe(1000);
  });

  it("goes from mode to mode on the axis and no farther", () => {
    expect(step("PageUp", 60)).toBe(80);
    expect(step("PageUp", 80)).toBe(160);
    expect(step("PageUp", 160)).toBe(160);
    expect(step("PageDown", 160)).toBe(80);
    expect(step("x", 160)).toBeNull();
  });
});
