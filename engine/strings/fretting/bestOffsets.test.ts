import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { bestOffsets, type FittedOffsets } from "./bestOffsets.ts";
import { withAction } from "./frettingString.ts";
import { intonation } from "./intonation.ts";
import { lightString } from "./lightString.fixture.ts";

const light = lightString();
const heavy = {
  ...light,
  string: 6,
  design: { ...light.design, bendingStiffness: 4 * light.design.bendingStiffness, linearDensity: 5e-3 },
  openFrequency: 110,
};
const strings = [light, heavy];
const squares = (fits: readonly FittedOffsets[]) => fits.reduce((sum, f) => sum + f.rmsCents ** 2, 0);

describe("the best offsets", () => {
  it("leave less than any others near them", () => {
    const [fit] = opened(bestOffsets([light], { nut: "each", weights: new Float64Array(21).fill(1) }));
    const rms = (nut: number, saddle: number) => {
      const { cents } = opened(
        intonation(light, { nut: fit!.offsets.nut + nut, saddle: fit!.offsets.saddle + saddle }),
      );
      return Math.sqrt(cents.reduce((sum, c) => sum + c * c, 0) / 20);
    };
    expect(rms(0, 0)).toBeCloseTo(fit!.rmsCents, 9);
    for (const [nut, saddle] of [
      [1e-4, 0],
      [-1e-4, 0],
      [0, 1e-4],
      [0, -1e-4],
      [5e-5, 5e-5],
    ] as const)
      expect(rms(nut, saddle)).toBeGreaterThan(fit!.rmsCents);
  });

  it("leave the less the freer the nut is, and a shared nut is one nut", () => {
    const [zero, shared, each] = (["zero", "shared", "each"] as const).map((nut) =>
      opened(bestOffsets(strings, { nut })),
    );
    expect(squares(each!)).toBeLessThan(squares(shared!));
    expect(squares(shared!)).toBeLessThan(squares(zero!));
    expect(shared![0]!.offsets.nut).toBe(shared![1]!.offsets.nut);
    expect(zero!.map((f) => f.offsets.nut)).toEqual([0, 0]);
  });

  it("lengthen the string at the saddle, more with more action, and move the nut forward", () => {
    const [low] = opened(bestOffsets([light], { nut: "each" }));
    const [high] = opened(bestOffsets([withAction(light, 3e-3)], { nut: "each" }));
    expect(low!.offsets.saddle).toBeGreaterThan(1e-3);
    expect(high!.offsets.saddle).toBeGreaterThan(low!.offsets.saddle);
    expect(low!.offsets.nut).toBeGreaterThan(0);
  });

  it("put the frets that count in tune", () => {
    const weights = new Float64Array(21);
    weights[5] = 1;
    weights[12] = 1;
    const [fit] = opened(bestOffsets([light], { nut: "each", weights }));
    expect(Math.abs(fit!.cents[5]!)).toBeLessThan(1e-3);
    expect(Math.abs(fit!.cents[12]!)).toBeLessThan(1e-3);
    expect(Math.abs(fit!.worst.cents)).toBe(Math.max(...fit!.cents.map(Math.abs)));
  });

  it("are refused for weights that do not say enough, and for a string that cannot be played, by its number", () => {
    const one = new Float64Array(21);
    one[3] = 1;
    expect(bestOffsets([light], { nut: "zero", weights: one })).toMatchObject({
      ok: false,
      reason: "bad-weights",
    });
    expect(bestOffsets([light], { nut: "zero", weights: [0, 1] })).toMatchObject({
      ok: false,
      reason: "bad-weights",
    });
    const low = bestOffsets([light, withAction(heavy, -2e-4)], { nut: "shared" });
    expect(low).toMatchObject({ ok: false, reason: "open-on-a-fret" });
    expect(low.ok ? "" : low.detail).toContain("string 6");
  });
});
