import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Change, changedExamples } from "../examples.fixture.ts";
import type { Issue } from "../issue.ts";

const { checked, good } = changedExamples((name) =>
  readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
);

function stops(name: string, ...changes: readonly Change[]): readonly Issue[] {
  const result = checked(name, ...changes);
  return result.ok ? [] : result.issues.filter(({ severity }) => severity === "stop");
}

/** Path, message, and what is found in the example or remedy. */
const faults: readonly (readonly [
  string,
  string,
  readonly (string | number)[],
  unknown,
  { readonly code: string; readonly path: string; readonly example?: string },
  RegExp,
])[] = [
  [
    "a tuning with a note too few",
    "low-radial",
    ["strings", "tunings", 0, "notes"],
    ["C4", "G3", "F3", "C3", "G2"],
    { code: "tuning-notes", path: "strings.tunings[0].notes" },
    /"C suspended" has 5 notes for 6 strings/,
  ],
  [
    "a tuning with what is no note",
    "low-radial",
    ["strings", "tunings", 1, "notes", 2],
    "H3",
    { code: "not-a-note", path: "strings.tunings[1].notes[2]" },
    /not a note/,
  ],
  [
    "an inlay deeper than the head",
    "low-radial",
    ["neck", "head", "inlay", "depth"],
    "16 mm",
    { code: "inlay-through", path: "neck.head.inlay.depth", example: '"2.00 mm"' },
    /16\.00 mm deep in a head 15\.00 mm thick/,
  ],
  [
    "a veneer as thick as the head",
    "low-radial",
    ["neck", "head"],
    { angle: "13 deg", thickness: "8 mm", length: "180 mm", faceVeneer: "8 mm" },
    { code: "too-large", path: "neck.head.faceVeneer" },
    /more than 6 mm/,
  ],
  [
    "five posts for six strings",
    "low-radial",
    ["neck", "head", "posts"],
    [44, 84, 124, 150, 170].map((along) => [`${along} mm`, "0 mm"]),
    { code: "posts-count", path: "neck.head.posts" },
    /5 posts for 6 strings/,
  ],
  [
    "a post beyond the head",
    "low-radial",
    ["neck", "head", "posts", 2, 0],
    "200 mm",
    { code: "post-off-head", path: "neck.head.posts[2]" },
    /200\.00 mm from the nut on a head 190\.00 mm long/,
  ],
  [
    "a neck rod that stands into the board",
    "low-radial",
    ["neck", "rods", 1, "axisDepth"],
    "3 mm",
    { code: "rod-in-board", path: "neck.rods[1].axisDepth", example: '"4.50 mm"' },
    /stand 1\.50 mm into the board/,
  ],
  [
    "a neck rod that comes out of the neck",
    "low-radial",
    ["neck", "rods", 0, "axisDepth"],
    "12 mm",
    { code: "rod-through-neck", path: "neck.rods[0].axisDepth" },
    /only 15\.50 mm of wood/,
  ],
  [
    "a carbon bar that is tightened",
    "low-radial",
    ["neck", "rods", 1, "tension"],
    "500 N",
    { code: "rod-not-adjustable", path: "neck.rods[1].tension" },
    /carbon bar cannot be tightened/,
  ],
  [
    "a fall-away beyond the last fret",
    "low-radial",
    ["fingerboard", "fallAway", "fromFret"],
    22,
    { code: "fall-away", path: "fingerboard.fallAway.fromFret", example: "14" },
    /nothing would fall/,
  ],
  [
    "slots through the board",
    "low-radial",
    ["fingerboard", "slot", "depth"],
    "5.5 mm",
    { code: "slot-through-board", path: "fingerboard.slot.depth", example: '"2.10 mm"' },
    /5\.50 mm deep in a board 5\.50 mm thick/,
  ],
  [
    "a tang deeper than its slot",
    "low-radial",
    ["fingerboard", "slot", "tangDepth"],
    "2.5 mm",
    { code: "tang-too-deep", path: "fingerboard.slot.tangDepth" },
    /does not go down/,
  ],
  [
    "a tang wider than its slot",
    "low-radial",
    ["fingerboard", "slot", "width"],
    "0.5 mm",
    { code: "tang-too-wide", path: "fingerboard.slot.tangWidth" },
    /does not go into a slot 0\.50 mm wide/,
  ],
  [
    "frets that end inside the outer strings",
    "low-radial",
    ["fingerboard", "slot", "overhang"],
    "-4 mm",
    { code: "fret-too-short", path: "fingerboard.slot.overhang" },
    /outer strings lie 3\.50 mm/,
  ],
  [
    "strings that leave the bridge behind it",
    "low-radial",
    ["bridge", "anchorBehind"],
    "22 mm",
    { code: "anchor-off-bridge", path: "bridge.anchorBehind", example: '"11.0 mm"' },
    /22\.00 mm wide/,
  ],
  [
    "plucks that do not grow",
    "low-radial",
    ["setup", "pluck"],
    { normal: "4 mm" },
    { code: "pluck-order", path: "setup.pluck" },
    /do not grow/,
  ],
  [
    "a finger that presses the string into the board",
    "low-radial",
    ["setup", "finger", "depth"],
    "1.1 mm",
    { code: "finger-depth", path: "setup.finger.depth" },
    /lie in the board/,
  ],
  [
    "weights for other frets than there are",
    "low-radial",
    ["fingerboard", "frets"],
    21,
    { code: "weights-count", path: "setup.weights" },
    /22 weights for 21 frets/,
  ],
  [
    "cents on a string that is not there",
    "low-radial",
    ["setup", "measured"],
    [{ string: 7, fret: 12, cents: 3, how: "tuner" }],
    { code: "no-such-string", path: "setup.measured[0].string", example: "6" },
    /string 7, but there are 6/,
  ],
  [
    "cents at a fret that is not there",
    "low-radial",
    ["setup", "measured"],
    [
      { string: 6, fret: 12, cents: 3, how: "tuner" },
      { string: 6, fret: 24, cents: 3, how: "tuner" },
    ],
    { code: "no-such-fret", path: "setup.measured[1].fret", example: "12" },
    /fret 24, but the board has 22/,
  ],
  [
    "partial frets, with the reason",
    "low-radial",
    ["fingerboard", "partialFrets"],
    [{ fret: 5.5, strings: [1, 2] }],
    { code: "partial-frets", path: "fingerboard.partialFrets" },
    /cut right across/,
  ],
];

describe("checks of board, neck and setup", () => {
  it.each(faults)("refuse %s at its place", (_, name, path, value, expected, message) => {
    const found = stops(name, [path, value]);
    const issue = found.find((i) => i.path === expected.path);
    expect(issue, JSON.stringify(found)).toMatchObject(expected);
    expect(issue!.message).toMatch(message);
    expect(issue!.line).toBeGreaterThan(1);
    expect(issue!.allowed).toBeTruthy();
    expect(issue!.message).not.toMatch(/\d m\b/);
  });

  it("take what lies just inside each limit", () => {
    good(
      "low-radial",
      [["fingerboard", "slot", "depth"], "5.4 mm"],
      [["fingerboard", "slot", "overhang"], "-3.4 mm"],
      [["fingerboard", "fallAway", "fromFret"], 21.5],
      [["neck", "head", "inlay", "depth"], "14.9 mm"],
      [["neck", "rods", 0, "axisDepth"], "10.9 mm"],
      [["bridge", "anchorBehind"], "21.9 mm"],
      [["setup", "finger", "depth"], "1.09 mm"],
      [["setup", "measured"], [{ string: 6, fret: 22, cents: -4, how: "tuner" }]],
    );
  });
});

describe("a square fret", () => {
  const square = (squareFret: unknown) =>
    checked("low-radial", [["strings", "scale", "squareFret"], squareFret]);

  it("may be any number on the board, between frets too, or the nut", () => {
    for (const squareFret of [0, 3, 7.25, 12.9, "nut"])
      expect(square(squareFret).ok, String(squareFret)).toBe(true);
    const [nut, zero] = [square("nut"), square(0)];
    if (nut.ok && zero.ok) expect(nut.build).toEqual(zero.build);
  });

  it("at the bridge makes the saddle stand square", () => {
    const result = square("bridge");
    if (!result.ok) throw new Error(JSON.stringify(result.issues));
    const [bass, treble] = result.build.bridge.saddleLine;
    expect(Math.abs(bass[0] - treble[0])).toBeLessThan(1e-12);
  });

  it("that the board cannot have is refused with the nearest one that it can", () => {
    const wide: Change[] = [
      [["strings", "scale", "bass"], "1000 mm"],
      [["strings", "scale", "treble"], "300 mm"],
      [["strings", "scale", "squareFret"], 30],
    ];
    const issue = stops("low-radial", ...wide).find(({ code }) => code === "square-fret");
    expect(issue).toMatchObject({ path: "strings.scale.squareFret", found: "30" });
    const near = Number(issue!.example);
    expect(near).toBeLessThan(30);
    const codes = stops("low-radial", ...wide.slice(0, 2), [["strings", "scale", "squareFret"], near]).map(
      ({ code }) => code,
    );
    expect(codes).not.toContain("square-fret");
    expect(codes).not.toContain("frets-cross");
  });

  it("is refused outright where the schema ends, with words for nut and bridge", () => {
    expect(stops("low-radial", [["strings", "scale", "squareFret"], -30])[0]).toMatchObject({
      path: "strings.scale.squareFret",
    });
    expect(stops("low-radial", [["strings", "scale", "squareFret"], "saddle"])[0]).toMatchObject({
      path: "strings.scale.squareFret",
    });
  });
});
