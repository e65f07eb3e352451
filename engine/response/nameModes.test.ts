import { describe, expect, it } from "vitest";
import { nameModes } from "./nameModes.ts";

const motion = (
  rows: readonly (readonly [top: number, back: number, hole: number, holeEnergy: number])[],
) => ({
  count: rows.length,
  square: new Float64Array(rows.length).fill(1),
  topFlow: Float64Array.from(rows, (r) => r[0]),
  backFlow: Float64Array.from(rows, (r) => r[1]),
  holeFlow: Float64Array.from(rows, (r) => r[2]),
  energyShare: Float64Array.from(rows.flatMap((r) => [0.5, 0.2, r[3]])),
});

describe("nameModes", () => {
  it("names by motion, whatever the order and the sign of the shapes", () => {
    const air = [-0.05, -0.02, 0.2, 0.8] as const;
    const top = [0.2, 0.02, 0.05, 0.1] as const;
    const back = [-0.02, -0.15, -0.03, 0.05] as const;
    const still = [0.001, 0, 0.0005, 0] as const;
    expect(nameModes(motion([air, top, back, still]))).toEqual(["main air", "main top", "main back", null]);
    expect(nameModes(motion([back, still, top, air]))).toEqual(["main back", null, "main top", "main air"]);
  });

  it("still tells top from back when both move in both modes", () => {
    const one = [0.15, 0.12, 0.05, 0.1] as const;
    const two = [-0.1, 0.16, 0.02, 0.1] as const;
    expect(nameModes(motion([one, two]))).toEqual(["main top", "main back"]);
    // Top and back the same way, the back stronger, below the mode in which all three breathe together.
    const rocking = [0.16, -0.2, -0.02, 0.02] as const;
    const together = [0.14, 0.1, 0.12, 0.2] as const;
    expect(nameModes(motion([rocking, together]))).toEqual(["main back", "main top"]);
  });

  it("does not let a hole that hardly breathes decide by its sign", () => {
    // Example C's pair: top and back against each other with the hole nearly still, and the mode that breathes.
    const pair = (still: number) =>
      motion([
        [0.094 + still, -0.094, still, 0],
        [0.085, -0.007, 0.082, 0.1],
        [0.009, -0.191, -0.078, 0.1],
      ]);
    for (const still of [-0.005, -1e-6, 0, 1e-6, 0.005])
      expect(nameModes(pair(still))).toEqual([null, "main top", "main back"]);
  });

  it("takes the softer of two modes with the same flow", () => {
    const back = [0.02, 0.15, 0.03, 0.05] as const;
    const two = motion([back, back]);
    expect(nameModes({ ...two, square: Float64Array.of(4, 1) })[1]).toBe("main back");
  });

  it("gives no name without its motion: a rigid back, a sealed hole", () => {
    expect(nameModes(motion([[0.2, 0, 0.05, 0.1]]))).toEqual(["main top"]);
    expect(nameModes(motion([[0, 0, 0, 0]]))).toEqual([null]);
  });
});
