import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { holeParameter, type LiveResult, liveParameters } from "#engine/pipeline";
import { leverOf, leverSteps } from "./levers.ts";
import { textOpener } from "./openText.ts";

const examples = ["low-radial", "cross-braced", "small-ladder"];
const read = (name: string) => {
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  return opened(textOpener().open(text));
};

describe.each(examples)("the steps that %s leaves to the hand", (name) => {
  const { build, geometry } = read(name);
  const steps = leverSteps(build, geometry);

  it("each lie within what the hand's model is prepared for, and every value once", () => {
    const limits = new Map([...liveParameters(build), holeParameter].map((p) => [p.id, p]));
    for (const { path, factor } of steps) {
      const limit = limits.get(path);
      expect([path, limit !== undefined]).toEqual([path, true]);
      expect(factor).toBeGreaterThan(limit!.low);
      expect(factor).toBeLessThan(limit!.high);
    }
    expect(new Set(steps.map(({ path }) => path)).size).toBe(steps.length);
  });

  it("take away what they say: a tenth of a millimetre of the top", () => {
    const top = steps.find(({ path }) => path === "top.thickness")!;
    expect((1 - top.factor) * build.top.meanThickness).toBeCloseTo(1e-4, 9);
    expect(top.step).toBe("0.1 mm less");
  });
});

describe("what a step does", () => {
  /** Of an edit only what the figures are taken from. */
  const result = (topHz: number | null, wolves: readonly number[], turn: number): LiveResult =>
    ({
      response: {
        name: topHz === null ? [] : [null, "main top"],
        frequency: Float64Array.of(90, topHz ?? 0),
      },
      board: {
        noteBoard: [...wolves, null].map((wolfIndex) => ({ wolfIndex })),
        evenness: { levelSpreadDb: 20 },
      },
      load: { bridgeRotation: (turn * Math.PI) / 180, saddleRise: 0 },
      errorEstimate: Float64Array.of(1e-5, 3e-5),
      needsFullSolve: [],
    }) as unknown as LiveResult;
  const step = { path: "top.thickness", words: "thickness of the top", factor: 0.9, step: "less" };
  const lever = leverOf(step, result(200, [0.5, 1, 2], 1.5), result(196, [0.5, 0.9, 2.2], 1.75));
  const effect = (figure: string) => lever.effects.find((e) => e.figure === figure);

  it("is told by figure, strongest first, in shares of what is just noticed", () => {
    expect(effect("mainTopHz")).toMatchObject({ before: 200, after: 196, strength: expect.closeTo(2, 9) });
    expect(effect("wolfNotes")).toMatchObject({ before: 2, after: 1, strength: 1 });
    expect(effect("worstWolf")).toMatchObject({ strength: expect.closeTo(0.5, 9) });
    expect(effect("bridgeRotationDeg")).toMatchObject({ strength: expect.closeTo(2.5, 9) });
    expect(effect("levelSpreadDb")).toMatchObject({ before: 20, after: 20, strength: 0 });
    expect(lever.effects[0]?.figure).toBe("bridgeRotationDeg");
    expect(lever.error).toBe(3e-5);
  });

  it("has no strength where a figure is not there before or after", () => {
    const gone = leverOf(step, result(200, [], 1), result(null, [], 1));
    for (const figure of ["mainTopHz", "mainAirHz", "worstWolf"])
      expect(gone.effects.find((e) => e.figure === figure)?.strength).toBe(0);
  });
});
