import { describe, expect, it } from "vitest";
import { type SnapTarget, snapped } from "./snap.ts";

const rule = { step: 1e-3, from: [0, 0], reach: 2e-3, off: false, free: [true, true] } as const;
const centreline: SnapTarget = { kind: "line", at: [0, 0], along: [1, 0], words: "centreline" };
const hub: SnapTarget = { kind: "point", at: [0.2253, 0.0007], words: "middle of the hub" };

describe("snapped", () => {
  it("rests on the marks of the rule where nothing is near", () => {
    const { at, target } = snapped([0.10036, 0.0817], [centreline, hub], rule);
    expect(target).toBeNull();
    expect(at[0]).toBeCloseTo(0.1, 12);
    expect(at[1]).toBeCloseTo(0.082, 12);
  });

  it("rests on a point before a line, and says on which", () => {
    const found = snapped([0.2261, 0.0009], [centreline, hub], rule);
    expect(found.at).toEqual(hub.at);
    expect(found.target).toBe(hub);
  });

  it("slides along a line by the step of the rule", () => {
    const slanted: SnapTarget = { kind: "line", at: [0.1, 0.1], along: [3, 4], words: "angle of ray 2" };
    const { at, target } = snapped([0.1305, 0.1399], [slanted], rule);
    expect(target).toBe(slanted);
    expect((at[0] - 0.1) / 3).toBeCloseTo((at[1] - 0.1) / 4, 12);
    expect((Math.hypot(at[0] - 0.1, at[1] - 0.1) / 1e-3) % 1).toBeCloseTo(0, 6);
  });

  it("leaves alone what the hand may not move", () => {
    const { at } = snapped([0.1004, 0.05], [centreline], { ...rule, free: [true, false] });
    expect(at).toEqual([expect.closeTo(0.1, 12), 0.05]);
  });

  it("counts the marks from where a whole thing lay, so that it keeps its fractions", () => {
    const { at } = snapped([0.1036, 0.0503], [], { ...rule, from: [0.1002, 0.0504] });
    expect(at[0]).toBeCloseTo(0.1032, 12);
    expect(at[1]).toBeCloseTo(0.0504, 12);
  });

  it("does nothing when it is off", () => {
    expect(snapped([0.2261, 0.00091], [centreline, hub], { ...rule, off: true })).toEqual({
      at: [0.2261, 0.00091],
      target: null,
    });
  });
});
