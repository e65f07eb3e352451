import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { bestOffsets } from "./bestOffsets.ts";
import { openClearance, withAction } from "./frettingString.ts";
import { intonation } from "./intonation.ts";
import { lightString } from "./lightString.fixture.ts";
import { sensitivityToAction } from "./sensitivityToAction.ts";

const s = lightString();
const present = opened(bestOffsets([s], { nut: "zero" }));

describe("raising the action", () => {
  const [up] = opened(sensitivityToAction([s], present, { nut: "zero" }, 5e-4));

  it("tells the action it started from", () => {
    expect(up!.action).toBeCloseTo(2e-3, 12);
    expect(openClearance(withAction(s, up!.action + 5e-4))[12]).toBeCloseTo(2.5e-3, 12);
  });

  it("sharpens the fretted notes, the more the nearer the saddle, as playing the raised string does", () => {
    expect(up!.centsChange[0]).toBe(0);
    expect(up!.centsChange[12]!).toBeGreaterThan(up!.centsChange[5]!);
    expect(up!.centsChange[20]!).toBeGreaterThan(up!.centsChange[12]!);
    const raised = opened(intonation(withAction(s, 2.5e-3), present[0]!.offsets));
    expect(up!.centsChange[12]).toBeCloseTo(raised.cents[12]! - present[0]!.cents[12]!, 9);
  });

  it("wants a saddle farther back, and lowering the opposite", () => {
    expect(up!.refitted.offsets.saddle).toBeGreaterThan(present[0]!.offsets.saddle);
    const [down] = opened(sensitivityToAction([s], present, { nut: "zero" }, -5e-4));
    expect(down!.refitted.offsets.saddle).toBeLessThan(present[0]!.offsets.saddle);
  });

  it("cannot be the opposite by more than there is", () => {
    expect(sensitivityToAction([s], present, { nut: "zero" }, -2.1e-3)).toMatchObject({
      ok: false,
      reason: "open-on-a-fret",
    });
  });
});
