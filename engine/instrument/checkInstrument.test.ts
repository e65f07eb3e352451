import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { mirrorPlan, pointInRegion, polygonArea } from "#engine/geometry";
import { designString, tension } from "#engine/strings";
import { standardGravity } from "#engine/units";
import { type CheckedInstrument, checkInstrument } from "./checkInstrument.ts";
import type { Issue } from "./issue.ts";

type Json = Record<string, unknown>;
type Change = readonly [path: readonly (string | number)[], value: unknown];

const names = ["low-radial", "cross-braced", "small-ladder"] as const;

function exampleText(name: string): string {
  return readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
}

/** An example with some places set to other values, checked. */
function checked(name: string, ...changes: readonly Change[]): CheckedInstrument {
  const document = JSON.parse(exampleText(name)) as Json;
  for (const [path, value] of changes) {
    let at: Json = document;
    for (const key of path.slice(0, -1)) at = at[key] as Json;
    const last = path[path.length - 1]!;
    if (value === undefined) delete at[last];
    else at[last] = value;
  }
  return checkInstrument(JSON.stringify(document, null, 2));
}

function good(name: string, ...changes: readonly Change[]): CheckedInstrument & { ok: true } {
  const result = checked(name, ...changes);
  if (!result.ok) throw new Error(result.issues.map(({ path, message }) => `${path}: ${message}`).join("\n"));
  return result;
}

function stops(result: CheckedInstrument): readonly Issue[] {
  return result.ok ? [] : result.issues.filter(({ severity }) => severity === "stop");
}

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
      const at = keys.reduce<unknown>((v, key) => (v as Json | undefined)?.[key], build);
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

const ring = (n: number, r: number): string[][] =>
  Array.from({ length: n }, (_, i) => {
    const t = (2 * Math.PI * i) / n - Math.PI;
    return [`${(240 + 240 * Math.cos(t)).toFixed(2)} mm`, `${(r * Math.sin(t)).toFixed(2)} mm`];
  });
const crossed = (): string[][] => {
  const points = ring(24, 180);
  [points[5], points[9]] = [points[9]!, points[5]!];
  return points;
};

const faults: readonly (readonly [string, string, readonly Change[], string, RegExp])[] = [
  [
    "a hole wholly outside the body",
    "cross-braced",
    [
      [
        ["soundHole", "centre"],
        ["344 mm", "400 mm"],
      ],
    ],
    "soundHole",
    /wholly outside/,
  ],
  [
    "a brace outside the outline",
    "cross-braced",
    [
      [
        ["top", "braces", 3, "from"],
        ["700 mm", "0 mm"],
      ],
      [
        ["top", "braces", 3, "to"],
        ["800 mm", "100 mm"],
      ],
    ],
    "top.braces[3]",
    /wholly outside/,
  ],
  [
    "a brace of the back outside the outline",
    "cross-braced",
    [
      [
        ["back", "braces", 0, "from"],
        ["-90 mm", "-10 mm"],
      ],
      [
        ["back", "braces", 0, "to"],
        ["-90 mm", "10 mm"],
      ],
    ],
    "back.braces[0]",
    /wholly outside/,
  ],
  [
    "an outline that crosses itself",
    "cross-braced",
    [[["outline"], { kind: "points", points: crossed() }]],
    "outline",
    /crosses itself at \(/,
  ],
  [
    "stations in the wrong order",
    "cross-braced",
    [[["outline", "waist", "station"], "460 mm"]],
    "outline",
    /make no guitar/,
  ],
  [
    "a saddle taller than its seat can hold",
    "cross-braced",
    [[["saddle", "heightBass"], "26 mm"]],
    "saddle.heightBass",
    /lean and break out/,
  ],
  [
    "a slot through the bridge",
    "cross-braced",
    [[["saddle", "slotDepth"], "9.5 mm"]],
    "saddle.slotDepth",
    /deep in a bridge/,
  ],
  [
    "a bridge over the hole",
    "cross-braced",
    [[["strings", "scale", "length"], "440 mm"]],
    "bridge",
    /does not lie wholly on the top/,
  ],
  [
    "a joining fret beyond the board",
    "cross-braced",
    [
      [["neck", "joinFret"], 20],
      [["fingerboard", "frets"], 19],
    ],
    "neck.joinFret",
    /only 19 frets/,
  ],
  [
    "strings wider than the nut",
    "cross-braced",
    [[["strings", "spreadAtNut"], "46 mm"]],
    "strings.spreadAtNut",
    /board's edge/,
  ],
  [
    "a species that is not in the table",
    "cross-braced",
    [[["back", "wood"], "Walnt, black"]],
    "back.wood",
    /no species/,
  ],
  [
    "half a wood without a species",
    "cross-braced",
    [[["back", "wood"], { density: "600 kg/m3" }]],
    "back.wood",
    /missing: stiffnessAlong/,
  ],
  [
    "a note that is none",
    "cross-braced",
    [[["strings", "set", 0, "note"], "H4"]],
    "strings.set[0].note",
    /not a note/,
  ],
  [
    "two braces of one name",
    "cross-braced",
    [[["top", "braces", 1, "name"], "tone bar, front"]],
    "top.braces[2].name",
    /Two braces/,
  ],
  [
    "a ray that misses its hub",
    "low-radial",
    [
      [
        ["top", "braces", 4, "from"],
        ["120 mm", "120 mm"],
      ],
    ],
    "top.hub.braces[4]",
    /away from the hub/,
  ],
  [
    "rays that run into one point",
    "low-radial",
    [
      [
        ["top", "braces", 0, "from"],
        ["209 mm", "0 mm"],
      ],
      [
        ["top", "braces", 1, "from"],
        ["209 mm", "0 mm"],
      ],
    ],
    "top.hub",
    /less than they are wide/,
  ],
  [
    "plies that do not add up",
    "low-radial",
    [[["sides", "plies", 0, "thickness"], "2 mm"]],
    "sides.plies",
    /together/,
  ],
  [
    "a patch over the edge",
    "cross-braced",
    [
      [
        ["top", "patches", 0, "shape", "points", 0],
        ["421 mm", "-300 mm"],
      ],
    ],
    "top.patches[0]",
    /not lie wholly/,
  ],
];

describe("checks of fit", () => {
  it.each(faults)("refuses %s at its place, with its line", (_, name, changes, path, message) => {
    const found = stops(checked(name, ...changes));
    expect(found.map((issue) => issue.path)).toContain(path);
    const issue = found.find((i) => i.path === path)!;
    expect(issue.message).toMatch(message);
    expect(issue.line).toBeGreaterThan(1);
    expect(issue.message).not.toMatch(/\d m\b/);
  });

  it("reports faults of different parts together", () => {
    const found = stops(
      checked(
        "cross-braced",
        [
          ["top", "braces", 3, "from"],
          ["700 mm", "0 mm"],
        ],
        [
          ["top", "braces", 3, "to"],
          ["800 mm", "100 mm"],
        ],
        [["saddle", "heightBass"], "26 mm"],
        [["back", "wood"], "Walnt, black"],
        [["strings", "set", 0, "note"], "H4"],
      ),
    ).map(({ path }) => path);
    expect(found).toEqual(
      expect.arrayContaining(["top.braces[3]", "saddle.heightBass", "back.wood", "strings.set[0].note"]),
    );
  });

  it("watches a crossing whose joint is not said, and a tuning that folds back", () => {
    const { watch } = good(
      "cross-braced",
      [["top", "crossings"], undefined],
      [["strings", "set", 3, "note"], "G3"],
      [["strings", "set", 2, "note"], "D3"],
    );
    expect(watch.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["crossing-not-stated", "string-order"]),
    );
  });

  it("watches a saddle height that neck and action do not ask for", () => {
    const { watch } = good("cross-braced", [["neck", "pitch"], "0.5 deg"]);
    expect(watch.map(({ path }) => path)).toEqual(
      expect.arrayContaining(["saddle.heightBass", "saddle.heightTreble"]),
    );
  });
});
