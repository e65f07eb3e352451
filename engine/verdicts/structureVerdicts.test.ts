import { describe, expect, it } from "vitest";
import { bridgeRotation } from "./bridgeRotation.ts";
import { saddleFit } from "./saddleFit.ts";
import { stringStrength } from "./stringStrength.ts";
import { totalLoad } from "./totalLoad.ts";

const degrees = (d: number) => (d * Math.PI) / 180;

describe("bridge rotation", () => {
  it("is good to 2 degrees, watch above, stop above 3, whichever way it turns", () => {
    const level = (d: number) => bridgeRotation(degrees(d)).level;
    expect([1.4, 1.99, 2.01, 2.99, 3.01, -2.5, -3.2].map(level)).toEqual([
      "good",
      "good",
      "watch",
      "watch",
      "stop",
      "watch",
      "stop",
    ]);
  });

  it("says the figure in degrees with its way and its range of 20 %", () => {
    const { computed, sureness, source } = bridgeRotation(degrees(1.5));
    expect(computed).toBe("1.5 degrees toward the nut at tuning, elastic, perfect joints assumed");
    expect(sureness).toContain("1.2 degrees to 1.8 degrees");
    expect(source).toBe("common practice, no source");
    expect(bridgeRotation(degrees(-1)).computed).toContain("toward the tail");
  });

  it("watches a miss of the maker's own range, without softening a stop", () => {
    const target = { low: null, high: degrees(1) };
    expect(bridgeRotation(degrees(1.5), target).level).toBe("watch");
    expect(bridgeRotation(degrees(0.9), target).level).toBe("good");
    expect(bridgeRotation(degrees(3.5), { low: null, high: degrees(5) }).level).toBe("stop");
  });
});

describe("string strength", () => {
  const strong = { string: 2, note: "B3", tension: 100, breakingForce: 300 };
  const weak = (margin: number) => ({ string: 1, note: "E4", tension: 80, breakingForce: 80 * margin });

  it("stops where a semitone sharp breaks the string and watches where a whole-tone bend does", () => {
    // T goes with f^2: a semitone is 2^(1/6) = 1.122, a tone 2^(1/3) = 1.260.
    const level = (m: number) => stringStrength([strong, weak(m)]).level;
    expect([1.12, 1.123, 1.259, 1.261, 1.6].map(level)).toEqual(["stop", "watch", "watch", "good", "good"]);
  });

  it("names the weakest string with its margin, and can hurt", () => {
    const verdict = stringStrength([strong, weak(1.05)]);
    expect(verdict.computed).toBe(
      "the weakest is string 1 (E4): it breaks at 1.05 times its tension of 80 N",
    );
    expect(verdict.figures).toEqual({ weakestString: 1, weakestMargin: 1.05 });
    expect(verdict.canHurt).toBe(true);
  });
});

describe("total load", () => {
  it("adds the tensions, says them as a maker feels them, and watches above 900 N", () => {
    expect(totalLoad([100, 120, 140, 130, 125, 110])).toMatchObject({
      level: "good",
      computed: "6 strings pull 74 kgf (725 N) together",
      figures: { total: 725 },
    });
    expect(totalLoad([450, 449]).level).toBe("good");
    expect(totalLoad([450, 451]).level).toBe("watch");
  });
});

describe("saddle fit", () => {
  const seat = { stringHeight: [0.012, 0.013] as const, bridgeHeight: 0.0085, slotDepth: 0.006 };

  it("is good inside the customary ranges, limits included", () => {
    expect(saddleFit(seat).level).toBe("good");
    expect(saddleFit({ stringHeight: [0.011, 0.013], bridgeHeight: 0.008, slotDepth: 0.005 }).level).toBe(
      "good",
    );
  });

  it("watches strings below 11 or above 14 mm and a saddle that shows less than 3 or more than 5 mm", () => {
    expect(saddleFit({ ...seat, stringHeight: [0.0108, 0.0125], bridgeHeight: 0.0075 }).level).toBe("watch");
    expect(saddleFit({ ...seat, stringHeight: [0.0125, 0.0142], bridgeHeight: 0.0095 }).level).toBe("watch");
    expect(saddleFit({ ...seat, bridgeHeight: 0.0095 }).why).toContain("hardly break");
    expect(saddleFit({ ...seat, bridgeHeight: 0.0075 }).why).toContain("leans");
  });

  it("stops where a string would lie on the bridge, or more shows than sits in the slot", () => {
    expect(saddleFit({ ...seat, bridgeHeight: 0.0122 })).toMatchObject({ level: "stop" });
    const tipping = saddleFit({ ...seat, slotDepth: 0.0035 });
    expect(tipping.level).toBe("stop");
    expect(tipping.why).toContain("splits the bridge");
    expect(tipping.computed).toBe(
      "strings 12.0 mm to 13.0 mm over the top; the saddle shows 3.5 mm to 4.5 mm and sits 3.5 mm deep",
    );
  });
});
