import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Change, changedExamples } from "../examples.fixture.ts";

const { good } = changedExamples((name) =>
  readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8"),
);

const bare: readonly Change[] = [
  [["nut"], undefined],
  [["setup"], undefined],
  [["bridge", "anchorBehind"], undefined],
  [["bridge", "glue"], undefined],
  [["bridge", "glueLand"], undefined],
  [["fingerboard", "slot"], undefined],
  [["fingerboard", "fallAway"], undefined],
  [["neck", "head", "posts"], undefined],
  [["climate", "hotCar"], undefined],
];

describe("what the document leaves open", () => {
  it("is taken as is usual (common practice, no source) and named as assumed", () => {
    const { build } = good("low-radial", ...bare);
    expect(build.nut).toEqual({ material: "bone", width: 0.005, clearanceBass: 4e-4, clearanceTreble: 4e-4 });
    expect(build.setup.pluck).toEqual({ soft: 7e-4, normal: 1.5e-3, hard: 2.5e-3 });
    expect(build.setup.finger).toEqual({
      behind: { kind: "share", share: 0.5, most: 0.012 },
      depth: expect.closeTo(2e-4, 12),
    });
    expect(build.setup.weights).toEqual([...Array(12).fill(1), ...Array(10).fill(0.5)]);
    expect(build.fingerboard.fallAway).toBeNull();
    expect(build.climate.hotCar.temperature).toBeCloseTo(333.15, 9);
    const named = build.assumed.map(({ path }) => path);
    for (const path of [
      "nut.width",
      "nut.clearance.bass",
      "setup.pluck.normal",
      "setup.finger.behind",
      "setup.weights",
      "bridge.anchorBehind",
      "bridge.glueLand",
      "fingerboard.slot.width",
      "neck.head.posts",
      "climate.hotCar.temperature",
    ])
      expect(named).toContain(path);
    expect(new Set(named).size).toBe(named.length);
    for (const { value, because } of build.assumed)
      expect(`${value} ${because}`).not.toMatch(/NaN|undefined/);
  });

  it("is not named where the document says it: nothing is assumed in the fullest example", () => {
    expect(good("low-radial").build.assumed).toEqual([]);
  });

  it("leaves the heights that the geometry asks for as they were", () => {
    expect(good("low-radial", ...bare).build.saddle).toEqual(good("low-radial").build.saddle);
  });
});

describe("what the document says", () => {
  it("of the nut's clearance lowers the saddle that is asked for by as much", () => {
    const low = good("low-radial").build.saddle;
    const high = good("low-radial", [["nut", "clearance"], { bass: "0.7 mm", treble: "0.5 mm" }]).build;
    // The string is straight and fret 12 is half way: what it gains at the nut it must lose at the saddle.
    expect(low.askedBass - high.saddle.askedBass).toBeCloseTo(3e-4, 12);
    expect(low.askedTreble - high.saddle.askedTreble).toBeCloseTo(1e-4, 12);
    expect(high.strings.map((s) => s.nutClearance)[0]).toBeCloseTo(5e-4, 12);
    expect(high.strings.map((s) => s.nutClearance)[5]).toBeCloseTo(7e-4, 12);
  });

  it("of the bridge's glue is its own word first, then that among the glues, then hide glue", () => {
    const glue = (...changes: Change[]) => good("cross-braced", ...changes).build.bridge.glue;
    expect(glue([["bridge", "glue"], "epoxy"], [["glue", "bridge"], "hot hide glue"])).toBe("epoxy");
    expect(glue([["glue"], { bridge: "yellow wood glue" }])).toBe("aliphatic");
    expect(glue([["glue"], undefined])).toBe("hide");
  });

  it("of the glued share is a rim of 1 mm where the top is finished, all of it where it is bare", () => {
    const finished = good("small-ladder").build.bridge.glueLand;
    // Bridge 146 x 26 mm.
    expect(finished).toBeCloseTo((144 * 24) / (146 * 26), 12);
    expect(good("small-ladder", [["finish"], undefined]).build.bridge.glueLand).toBe(1);
  });

  it("of the posts gives the length behind the nut; straight strings if nothing is said", () => {
    const { build } = good("cross-braced");
    expect(build.neck.head.postsStated).toBe(false);
    build.strings.forEach((s, i) => {
      const [along, aside] = build.neck.head.posts[i]!;
      // In line with the string: the same slope aside as from saddle to nut.
      const slope = (s.nut[1] - s.crown[1]) / (s.nut[0] - s.crown[0]);
      expect(aside).toBeCloseTo(s.nut[1] + slope * along, 12);
      expect(s.behindNut).toBeCloseTo(along * Math.hypot(1, slope), 12);
      expect(along).toBeLessThan(build.neck.head.length);
    });
  });

  it("of strings held at the tail runs from each saddle place to the tail", () => {
    const { build } = good("cross-braced", [["bridge", "anchor"], "tail"]);
    for (const s of build.strings) expect(s.behindSaddle).toBe(s.crown[0]);
  });
});
