import { describe, expect, it } from "vitest";
import { neckRelief } from "./neckRelief.ts";
import { neckWood } from "./neckWood.ts";
import { rodForce } from "./rodForce.ts";
import { stringPath } from "./stringPath.ts";

const degrees = (d: number) => (d * Math.PI) / 180;

describe("relief", () => {
  const figures = {
    wanted: 1.5e-4,
    slack: 2.9e-4,
    least: 6e-5,
    most: 5e-4,
    stated: null,
    force: 1000,
    adjustable: true,
  };
  it("is good where the rod reaches it and watched where strings or rod do not", () => {
    expect(neckRelief(figures).level).toBe("good");
    const slackOnly = neckRelief({ ...figures, least: 2.9e-4, most: 2.9e-4, force: null, adjustable: false });
    expect(slackOnly.level).toBe("watch");
    expect(slackOnly.why).toContain("hollower");
    const stiff = neckRelief({ ...figures, least: -1e-4, most: 5e-5 });
    expect(stiff.level).toBe("watch");
    expect(stiff.why).toContain("so stiff");
  });
  it("is watched where the stated force misses it, with the force that would not", () => {
    const missed = neckRelief({ ...figures, stated: { force: 300, relief: 2.5e-4 } });
    expect(missed.level).toBe("watch");
    expect(missed.computed).toContain("the relief wanted takes 102 kgf (1000 N)");
    expect(neckRelief({ ...figures, stated: { force: 900, relief: 1.6e-4 } }).level).toBe("good");
  });
});

describe("wood left", () => {
  const at = (left: number) => neckWood([{ where: "under the adjustable rod", left, customary: 4e-3 }]);
  it("is good from what is customary, watched below and a stop where it comes through", () => {
    expect([4.5, 4, 3.9, 0.1, 0, -1].map((mm) => at(mm * 1e-3).level)).toEqual([
      "good",
      "good",
      "watch",
      "watch",
      "stop",
      "stop",
    ]);
  });
  it("names the worst place", () => {
    const two = neckWood([
      { where: "under the adjustable rod", left: 5e-3, customary: 4e-3 },
      { where: "under the inlay", left: 2e-3, customary: 3e-3 },
    ]);
    expect(two.computed).toBe("2.0 mm under the inlay");
  });
});

describe("string path", () => {
  const path = (sideways: number, down = 13) =>
    stringPath({ sideways: [0, degrees(sideways)], down: [degrees(13), degrees(down)], postsStated: true });
  it("is straight within 3 degrees either way (common practice, no source)", () => {
    expect([0, 2.9, -2.9, 4, -4].map((d) => path(d).level)).toEqual([
      "good",
      "good",
      "good",
      "watch",
      "watch",
    ]);
    expect(path(-4).why).toContain("string 2");
  });
  it("is watched flat and steep, and stops where a string does not press", () => {
    expect([6, 20, 0, -1].map((d) => path(0, d).level)).toEqual(["watch", "watch", "stop", "stop"]);
  });
});

it("the rod is watched from half its strength and stopped at all of it, whichever way it is turned", () => {
  const level = (force: number) => rodForce({ force, stated: true, strength: 3000 }).level;
  expect([900, 1499, 1501, -1600, 2999, 3001].map(level)).toEqual([
    "good",
    "good",
    "watch",
    "watch",
    "watch",
    "stop",
  ]);
});
