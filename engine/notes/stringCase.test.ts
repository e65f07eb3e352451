import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { readStringCase, solveStringCase } from "./stringCase.ts";

const good = {
  id: "here",
  string: { lengthM: 0.65, linearDensityKgPerM: 0.006, tensionN: 70, bendingStiffnessNm2: 4e-4, q: 900 },
  bodyModes: [{ frequencyHz: 110, q: 30, massKg: 0.4, direction: [0.8, 0.6, 0] }],
  maxHz: 500,
  pluckFromBridgeM: 0.12,
};

describe("a string case", () => {
  it("is solved to all its modes, sorted", () => {
    const { modes, wolfIndex } = opened(solveStringCase(opened(readStringCase(good))));
    expect(modes).toHaveLength(13);
    for (let i = 1; i < modes.length; i++)
      expect(modes[i]!.frequencyHz).toBeGreaterThanOrEqual(modes[i - 1]!.frequencyHz);
    expect(wolfIndex).toBeGreaterThan(0);
  });

  const mode = good.bodyModes[0]!;
  const faults: readonly (readonly [string, unknown, string])[] = [
    ["a list", [], "the case is []"],
    ["nothing", null, "the case is null"],
    ["no string", { ...good, string: undefined }, "string is missing"],
    [
      "a length in words",
      { ...good, string: { ...good.string, lengthM: "65 cm" } },
      'string.lengthM is "65 cm"',
    ],
    ["a negative tension", { ...good, string: { ...good.string, tensionN: -70 } }, "string.tensionN is -70"],
    ["a q of zero", { ...good, string: { ...good.string, q: 0 } }, "string.q is 0"],
    ["no modes", { ...good, bodyModes: undefined }, "bodyModes is missing"],
    [
      "a flat direction",
      { ...good, bodyModes: [{ ...mode, direction: [1, 0] }] },
      "bodyModes[0].direction is [1,0]",
    ],
    [
      "a long direction",
      { ...good, bodyModes: [{ ...mode, direction: [1, 1, 0] }] },
      "a unit vector is wanted",
    ],
    ["a pluck off the string", { ...good, pluckFromBridgeM: 0.7 }, "pluckFromBridgeM is 0.7"],
    ["a limit out of reach", { ...good, maxHz: 1e9 }, "partials; at most"],
  ];
  for (const [name, json, message] of faults)
    it(`is refused with its place for ${name}`, () => {
      expect(readStringCase(json)).toMatchObject({
        ok: false,
        reason: "bad-case",
        detail: expect.stringContaining(message),
      });
    });
});
