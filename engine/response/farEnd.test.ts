import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { BodyResponse } from "./bodyResponse.ts";
import { farEnd } from "./farEnd.ts";

const x = Float64Array.of(0.4, 0.45, 0.55, 0.6, 0.75, 0.85);
const bend = (s: number) => 1 - 2 * s + 3 * s ** 2 - 4 * s ** 3;
/** One rigid motion (turn about x), one mode: a cubic along z, a constant turn, a straight line along y. */
const body = {
  count: 1,
  rigidCount: 1,
  neck: {
    x,
    shape: Float64Array.from([...x].flatMap((s) => [bend(s), 0.7, 2 * s])),
    imaginary: Float64Array.from([...x].flatMap((s) => [0.1 * bend(s), 0, 0])),
    rigidShape: Float64Array.from([...x].flatMap(() => [0, 1, -0.01])),
  },
} as unknown as BodyResponse;

describe("a string's far end on the fingerboard", () => {
  it("lies on the cubic through the stations, with the section's turn under an outer string", () => {
    for (const at of [0.4, 0.42, 0.5, 0.58, 0.7, 0.85]) {
      const { shape, shapeIm } = opened(farEnd(body, at, 0.02));
      expect(shape[2]).toBeCloseTo(bend(at) + 0.02 * 0.7, 12);
      expect(shape[3]).toBeCloseTo(2 * at, 12);
      expect(shapeIm[2]).toBeCloseTo(0.1 * bend(at), 12);
      expect([shape[0], shape[1]]).toEqual([expect.closeTo(0.02, 14), expect.closeTo(-0.01, 14)]);
    }
  });

  it("moves beyond the last station as there", () => {
    expect(opened(farEnd(body, 0.3, 0)).shape[2]).toBeCloseTo(bend(0.4), 12);
  });

  it("is not told where the neck's motion was not asked for", () => {
    const { neck: _, ...without } = body;
    expect(farEnd(without, 0.5, 0)).toMatchObject({ ok: false, reason: "no-neck" });
  });
});
