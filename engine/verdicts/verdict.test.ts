import { describe, expect, it } from "vitest";
import { bridgeRotation } from "./bridgeRotation.ts";
import { stringStrength } from "./stringStrength.ts";
import { exitStatus, graver, markMeant, missOf, sayTarget } from "./verdict.ts";

const rolling = bridgeRotation((3.4 * Math.PI) / 180);
const breaking = stringStrength([{ string: 1, note: "E4", tension: 100, breakingForce: 105 }]);

describe("a verdict that is meant", () => {
  it("stays visible at its level with the maker's reason, and no longer counts for the exit status", () => {
    expect(exitStatus([rolling])).toBe(1);
    const { verdicts, unknown } = markMeant(
      [rolling],
      [{ verdict: "bridge-rotation", reason: " a trial top " }],
    );
    expect(verdicts[0]).toEqual({ ...rolling, meant: "a trial top" });
    expect(unknown).toEqual([]);
    expect(exitStatus(verdicts)).toBe(0);
  });

  it("still counts when someone can be hurt by it", () => {
    const { verdicts } = markMeant([breaking], [{ verdict: "string-strength", reason: "it will hold" }]);
    expect(verdicts[0].meant).toBe("it will hold");
    expect(exitStatus(verdicts)).toBe(1);
  });

  it("needs a reason, and names a verdict that exists", () => {
    const { verdicts, unknown } = markMeant(
      [rolling],
      [
        { verdict: "bridge-rotation", reason: "  " },
        { verdict: "bridge-rotaton", reason: "typed wrong" },
      ],
    );
    expect(exitStatus(verdicts)).toBe(1);
    expect(unknown).toEqual(["bridge-rotaton"]);
  });
});

describe("levels and targets", () => {
  it("watch and good leave the exit status at 0", () => {
    expect(exitStatus([bridgeRotation((2.4 * Math.PI) / 180), bridgeRotation(0.02)])).toBe(0);
  });

  it("the graver of two levels wins", () => {
    expect([graver("good", "watch"), graver("stop", "watch"), graver("good", "good")]).toEqual([
      "watch",
      "stop",
      "good",
    ]);
  });

  it("a range is missed below and above, and not inside or at an open end", () => {
    expect(missOf(90, { low: 95, high: 105 })).toBe(-5);
    expect(missOf(110, { low: 95, high: 105 })).toBe(5);
    expect(missOf(100, { low: 95, high: 105 })).toBe(0);
    expect(missOf(1, { low: null, high: 105 })).toBe(0);
    expect(sayTarget({ low: 95, high: null }, (v) => `${v} Hz`)).toBe("at least 95 Hz");
  });
});
