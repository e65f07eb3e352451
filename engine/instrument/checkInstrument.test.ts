import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { mirrorPlan, pointInRegion, polygonArea } from "#engine/geometry";
import { designString, tension } from "#engine/strings";
import { standardGravity } from "#engine/units";
import { type Change, changedExamples } from "./examples.fixture.ts";

const names = ["low-radial", "cross-braced", "small-ladder"] as const;
const { good } = changedExamples((name) =>
  readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
);

describe("the examples", () => {
  it.each(names)("%s is realised without a fault, and nothing but the unmodelled is worth a look", (name) => {
    const { watch } = good(name);
    expect(watch.filter(({ code }) => code !== "not-modelled")).toEqual([]);
  });

  it.each(names)("%s holds sizes that a maker would call usual (common practice, no source)", (name) => {
    const { build, plan } = good(name);
    const total = build.strings.reduce((sum, s) => {
      const design = designString(s.construction);
      return sum + (design.ok ? tension(design.value.linearDensity, s.scaleLength, s.frequency) : Number.NaN);
    }, 0);
    expect(total / standardGravity).toBeGreaterThan(55);
    expect(total / standardGravity).toBeLessThan(82);
    expect(plan.netVolume).toBeGreaterThan(0.009);
    expect(plan.netVolume).toBeLessThan(0.017);
    const solid = plan.grossVolume - plan.netVolume;
    expect(solid).toBeGreaterThan(0.0005);
    expect(solid).toBeLessThan(0.0013);
    expect(build.bridge.mass).toBeGreaterThan(0.015);
    expect(build.bridge.mass).toBeLessThan(0.04);
    expect(build.saddle.heightTreble).toBeGreaterThanOrEqual(0.011);
    expect(build.saddle.heightBass).toBeLessThanOrEqual(0.014);
    expect(Math.abs(build.saddle.askedBass - build.saddle.heightBass)).toBeLessThan(0.001);
  });

  it("A has seven rays that end on its hub, a skewed scale, and its hole at the upper bass edge", () => {
    const { build, plan } = good("low-radial");
    expect(build.top.braces.filter(({ ends }) => ends.includes("hub"))).toHaveLength(7);
    expect(build.strings[5]!.scaleLength).toBeCloseTo(0.672, 6);
    expect(build.strings[0]!.scaleLength).toBeCloseTo(0.652, 6);
    expect(build.strings.map(({ note }) => note)).toEqual(["D4", "A3", "F3", "C3", "G2", "D2"]);
    const [x, y] = [0.404, 0.093];
    expect(pointInRegion(plan.topRegion, x, y)).toBe(false);
    expect(x).toBeGreaterThan((2 / 3) * plan.length);
  });

  it("B puts the fourteenth fret on the body's edge and the saddle in the lower bout", () => {
    const { build, plan } = good("cross-braced");
    // 648 mm scale, join at 14: 0.6477 * 2^(-14/12) from the edge to the saddle (equal temperament, ISO16).
    const saddle = build.bridge.saddleLine[0][0];
    expect(plan.length - saddle).toBeCloseTo(0.6477 * 2 ** (-14 / 12), 4);
  });
});

describe("realise", () => {
  it("reads every unit to the same build: inches for millimetres change nothing", () => {
    const metric = good("small-ladder", [["strings", "scale", "length"], "628.65 mm"]);
    const inches = good("small-ladder", [["strings", "scale", "length"], "24 3/4 in"]);
    expect(inches.build.strings.map((s) => s.scaleLength)).toEqual(
      metric.build.strings.map((s) => s.scaleLength),
    );
  });

  it("makes a left-handed instrument the same in every number but the word for the hand", () => {
    for (const name of names) {
      const right = good(name);
      const left = good(name, [["hand"], "left"]);
      expect(left.build.body.hand).toBe("left");
      expect({ ...left.build, body: { ...left.build.body, hand: "right" } }).toEqual(right.build);
      expect(left.build.strings[0]!.frequency).toBeGreaterThan(left.build.strings[5]!.frequency);
      const mirrored = left.plan.hand === "left" ? left.plan : mirrorPlan(left.plan);
      expect(mirrored.netVolume).toBe(right.plan.netVolume);
      expect(polygonArea(mirrored.topRegion.outline)).toBeCloseTo(
        polygonArea(right.plan.topRegion.outline),
        12,
      );
    }
  });

  it("makes the bridge weigh what the maker weighed, with what it carries", () => {
    const { build } = good("cross-braced");
    const weighed = build.bridge.patches.reduce(
      (sum, p) => sum + polygonArea(p.polygon) * p.thickness * p.wood.density,
      0,
    );
    expect(weighed).toBeCloseTo(0.025 + 0.008, 9);
    const free = good("cross-braced", [["bridge", "mass"], undefined]).build.bridge;
    expect(free.givenMass).toBeNull();
    expect(free.patches[1]!.wood.density).toBeCloseTo(free.wood.density, 6);
  });

  it("carries origin and spread of every uncertain value, at its place in the document and in the build", () => {
    const { build } = good("low-radial");
    const find = (path: string) => build.uncertain.find((u) => u.path === path);
    expect(find("top.wood.stiffnessAlong")).toMatchObject({
      buildPath: "top.wood.EL",
      value: 11.6e9,
      how: "measured",
    });
    expect(find("top.wood.stiffnessAlong")!.spread).toBeCloseTo(0.04 * 11.6e9, -3);
    expect(find("top.thickness")).toMatchObject({ value: expect.closeTo(0.0026, 12), how: "measured" });
    expect(find("top.thickness")!.spread).toBeCloseTo(0.00008, 12);
    expect(find("top.wood.shearAcrossThrough")!.how).not.toBe("measured");
    expect(find("top.braces[0].height")!.spread).toBeCloseTo(0.0003, 9);
  });

  it.each(names)("%s: every uncertain value has a spread, and its place in the build holds it", (name) => {
    const { build } = good(name, [["strings", "set", 2, "unitWeight"], "2.1 g/m"]);
    expect(build.uncertain.length).toBeGreaterThan(40);
    for (const { path, buildPath, value, spread } of build.uncertain) {
      expect(spread, path).toBeGreaterThan(0);
      if (buildPath === null) continue;
      const keys = buildPath.split(/[.[\]]+/).filter((key) => key !== "");
      const at = keys.reduce<unknown>((v, key) => (v as Record<string, unknown> | undefined)?.[key], build);
      expect(at, buildPath).toBe(value);
    }
    expect(new Set(build.uncertain.map(({ path }) => path)).size).toBe(build.uncertain.length);
  });

  it("takes a hole that crosses the body's edge: the edge is open there and the lining shorter", () => {
    const whole = good("low-radial");
    const { plan, build } = good("low-radial", [
      ["soundHole", "centre"],
      ["404 mm", "135 mm"],
    ]);
    expect(plan.holeMeetsEdge).toBe(true);
    expect(plan.openEdge.length).toBeGreaterThan(0);
    expect(build.body.solidVolume!).toBeLessThan(whole.build.body.solidVolume!);
  });

  it("takes an outline by points: the same body as the dimensions it was drawn from", () => {
    const drawn = good("cross-braced");
    const outline = drawn.plan.outlinePolygon;
    const points = Array.from({ length: outline.length / 2 }, (_, i) => [
      `${(outline[2 * i]! * 1000).toFixed(4)} mm`,
      `${(outline[2 * i + 1]! * 1000).toFixed(4)} mm`,
    ]);
    const { plan, build } = good("cross-braced", [["outline"], { kind: "points", points }]);
    expect(Math.abs(plan.netVolume / drawn.plan.netVolume - 1)).toBeLessThan(1e-4);
    expect(build.bridge.saddleLine[0][0]).toBeCloseTo(drawn.build.bridge.saddleLine[0][0], 5);
  });

  it("keeps the caliper map of a plate and its mean", () => {
    const { build } = good("small-ladder");
    expect(build.top.thickness.kind).toBe("spots");
    expect(build.top.meanThickness).toBeCloseTo(0.0027875, 9);
  });

  it("cuts a brace where the hole lies, and gives each piece its own part of the profile", () => {
    const across: Change = [
      ["top", "braces", 2, "from"],
      ["344 mm", "-130 mm"],
    ];
    const { build } = good("cross-braced", across, [
      ["top", "braces", 2, "to"],
      ["344 mm", "130 mm"],
    ]);
    const pieces = build.top.braces.filter(({ documentPath }) => documentPath === "top.braces[2]");
    expect(pieces).toHaveLength(2);
    for (const { heights } of pieces) {
      expect(heights[0]![0]).toBe(0);
      expect(heights.at(-1)![0]).toBe(1);
    }
    expect(pieces[0]!.heights[0]![1]).toBeCloseTo(0.006, 6);
    expect(pieces[0]!.heights.at(-1)![1]).toBeCloseTo(0.012, 6);
  });
});
