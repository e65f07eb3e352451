import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { CheckedInstrument } from "../checkInstrument.ts";
import { type Change, changedExamples } from "../examples.fixture.ts";
import type { Issue } from "../issue.ts";

const { checked, good } = changedExamples((name) =>
  readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
);

function stops(result: CheckedInstrument): readonly Issue[] {
  return result.ok ? [] : result.issues.filter(({ severity }) => severity === "stop");
}

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
