import { describe, expect, it } from "vitest";
import { action } from "./action.ts";
import { breakAngle } from "./breakAngle.ts";
import { type BuzzFigures, type BuzzingString, buzz } from "./buzz.ts";
import { edgeMargin } from "./edgeMargin.ts";
import { reach } from "./reach.ts";
import { type SaddleHeights, saddleHeight } from "./saddleHeight.ts";
import { type SlotFigures, saddleSlot } from "./saddleSlot.ts";

const degrees = (...values: number[]): number[] => values.map((v) => (v * Math.PI) / 180);
const upTo12 = Array.from({ length: 12 }, (_, k) => k + 1);

describe("verdicts on the setup (limits: common practice, no source)", () => {
  it("action: good from 1.6 to 2.0 mm treble and 2.2 to 2.6 bass, else watch, never stop", () => {
    const level = (treble: number, bass: number) =>
      action({ treble, bass, trebleAsStated: treble, bassAsStated: bass }).level;
    expect(level(1.8e-3, 2.4e-3)).toBe("good");
    expect(level(1.6e-3, 2.6e-3)).toBe("good");
    expect(level(1.4e-3, 2.4e-3)).toBe("watch");
    expect(level(2e-3, 2.8e-3)).toBe("watch");
    expect(level(5e-4, 9e-3)).toBe("watch");
  });

  it("break angle: good from 20 to 35 degrees, watch outside, stop where a string does not press on the saddle", () => {
    expect(breakAngle(degrees(20, 28, 35)).level).toBe("good");
    const flat = breakAngle(degrees(25, 16, 25));
    expect([flat.level, flat.computed]).toEqual([
      "watch",
      expect.stringContaining("16.0 degrees (string 2)"),
    ]);
    expect(breakAngle(degrees(25, 38)).level).toBe("watch");
    expect(breakAngle(degrees(25, -1)).level).toBe("stop");
  });

  it("saddle height: good within 0.2 mm, watch beyond, stop where the saddle would not stand out of the bridge or tip", () => {
    const heights: SaddleHeights = {
      statedBass: 0.013,
      statedTreble: 0.012,
      askedBass: 0.0131,
      askedTreble: 0.0119,
      bridgeThickness: 0.009,
      slotDepth: 0.006,
      run: 0.29,
      straightedge: 5e-4,
    };
    expect(saddleHeight(heights).level).toBe("good");
    const watched = saddleHeight({ ...heights, askedBass: 0.0135, askedTreble: 0.0125 });
    expect(watched.level).toBe("watch");
    expect(watched.computed).toContain("0.50 mm higher at the treble and 0.50 mm higher at the bass");
    // too high by half a millimetre over 290 mm: 0.1 degrees less pitch
    expect(watched.whatWouldChange).toContain("0.1 degrees less");
    expect(watched.figures["pitchChange"]).toBeCloseTo(-5e-4 / 0.29, 6);
    expect(saddleHeight({ ...heights, askedTreble: 0.0088 }).level).toBe("stop");
    expect(saddleHeight({ ...heights, askedBass: 0.0155 }).level).toBe("stop");
  });

  it("saddle slot: good if crowns fit its width less 0.6 mm, watch within what places hold to, stop beyond with the width that does", () => {
    const slot: SlotFigures = {
      width: 2.6e-3,
      scaleLength: 0.648,
      straight: { move: 3e-3, span: 1.8e-3 },
      slanted: { move: 3e-3, span: 1e-3, slant: 0.04 },
    };
    expect(saddleSlot(slot).level).toBe("good");
    const slanted = saddleSlot({ ...slot, straight: { move: 3e-3, span: 4e-3 } });
    expect([slanted.level, slanted.why]).toEqual([
      "good",
      expect.stringContaining("2.3 degrees further back"),
    ]);
    const wide = (span: number) =>
      saddleSlot({ ...slot, straight: { move: 3e-3, span: 6e-3 }, slanted: { ...slot.slanted, span } });
    expect(wide(2.9e-3).level).toBe("watch");
    // off by 0.45 mm of 648: 1731 x 0.45 / 648 = 1.2 cents
    expect(wide(2.9e-3).why).toContain("some 1 cents at fret 12");
    expect(wide(3.4e-3).level).toBe("stop");
    expect(wide(3.4e-3).whatWouldChange).toContain("4.0 mm wide");
  });

  it("edge margin: good from 2 mm, watch below, stop where a string runs beside the fret, with the width that is missing", () => {
    const margin = (bass: number, treble: number) =>
      edgeMargin({ fret: 0, margin: bass }, { fret: 20, margin: treble });
    expect(margin(3e-3, 3.2e-3).level).toBe("good");
    expect(margin(2.4e-3, 3.2e-3).level).toBe("good");
    const thin = margin(3e-3, 1.5e-3);
    expect([thin.level, thin.why]).toEqual(["watch", expect.stringContaining("at fret 20 the treble")]);
    expect(thin.whatWouldChange).toContain("3.0 mm wider at fret 20");
    expect(margin(-1e-3, 3e-3).level).toBe("stop");
  });

  it("reach: good if the hand gets to the last fret, else watch with the frets beyond", () => {
    const r = { fret: 20, lastFret: 20, joinFret: 14, pastBodyEnd: 0.09, limit: "board" } as const;
    expect(reach(r).level).toBe("good");
    const short = reach({ ...r, fret: 17, limit: "body" });
    expect([short.level, short.why]).toEqual(["watch", expect.stringContaining("frets 18 to 20")]);
  });

  it("buzz: stop everywhere when soft or at rest, watch somewhere when soft or everywhere when normal, else good", () => {
    const clear: BuzzingString = {
      string: 1,
      soft: [],
      normal: [1, 2],
      hard: upTo12,
      action: 1.8e-3,
      leastActionSoft: 1.2e-3,
      leastActionNormal: 2.4e-3,
    };
    const note = { string: 1, fret: 2, overFret: 6, clearance: -1e-4 };
    const figures: BuzzFigures = {
      tunings: [{ name: "own", strings: [clear, { ...clear, string: 2 }] }],
      frets: 20,
      least: { soft: { ...note, clearance: 1e-4 }, normal: note, hard: note },
      resting: [],
      relief: 1.5e-4,
      betterRelief: { relief: 2.5e-4, gain: 6e-5 },
    };
    expect(buzz(figures).level).toBe("good");
    expect(buzz(figures).computed).toContain("0.10 mm into fret 6");
    const of = (change: Partial<BuzzingString>, tuning: "own" | "slack" = "own") =>
      buzz({
        ...figures,
        tunings:
          tuning === "own"
            ? [{ name: "own", strings: [{ ...clear, ...change }] }]
            : [...figures.tunings, { name: "slack", strings: [{ ...clear, ...change }] }],
      });
    expect(of({ soft: [3] }).level).toBe("watch");
    expect(of({ normal: upTo12 }).level).toBe("watch");
    const dead = of({ soft: upTo12, normal: upTo12 });
    expect(dead.level).toBe("stop");
    expect(dead.whatWouldChange).toContain("a soft pluck clears all stopped notes from an action of 1.2 mm");
    expect(of({ soft: upTo12 }, "slack").why).toContain("string 1 in slack");
    expect(buzz({ ...figures, resting: [{ string: 2, fret: 3, overFret: 4 }] }).level).toBe("stop");
    expect(buzz({ ...figures, least: null }).computed).toContain("no fret lies ahead");
  });
});
