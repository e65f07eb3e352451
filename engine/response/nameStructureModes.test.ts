import { describe, expect, it } from "vitest";
import { nameStructureModes, type StructureMotion } from "./nameStructureModes.ts";

interface Row {
  readonly flow: readonly [top: number, back: number, hole: number];
  readonly share?: readonly [top: number, back: number, sides: number, neck: number, air: number];
  readonly opening?: number;
  readonly cavity?: readonly number[];
  readonly nut?: readonly [up: number, side: number, turn: number];
}

const motion = (rows: readonly Row[], change: Partial<StructureMotion> = {}): StructureMotion => ({
  count: rows.length,
  square: new Float64Array(rows.length).fill(1),
  topFlow: Float64Array.from(rows, (r) => r.flow[0]),
  backFlow: Float64Array.from(rows, (r) => r.flow[1]),
  holeFlow: Float64Array.from(rows, (r) => r.flow[2]),
  share: Float64Array.from(rows.flatMap((r) => r.share ?? [0.5, 0.2, 0, 0, r.opening ?? 0.1])),
  openingShare: Float64Array.from(rows, (r) => r.opening ?? 0.1),
  cavityShare: Float64Array.from(rows.flatMap((r) => r.cavity ?? [0, 0, 0])),
  slope: Float64Array.of(0, 0, 0.95, 0.01, 0.02, 0.9),
  nut: Float64Array.from(rows.flatMap((r) => r.nut ?? [0, 0, 0])),
  ...change,
});
const air: Row = { flow: [-0.05, -0.02, 0.2], opening: 0.8 };
const top: Row = { flow: [0.2, 0.02, 0.05] };
const back: Row = { flow: [-0.02, -0.15, -0.03], opening: 0.05 };
const still: Row = { flow: [0.001, 0, 0.0005], opening: 0 };

describe("nameStructureModes", () => {
  it("names by motion, whatever the order", () => {
    expect(nameStructureModes(motion([air, top, back, still])).name).toEqual([
      "main air",
      "main top",
      "main back",
      null,
    ]);
    expect(nameStructureModes(motion([back, still, top, air])).name).toEqual([
      "main back",
      null,
      "main top",
      "main air",
    ]);
  });

  it("does not let a hole that hardly breathes decide by its sign (example C's pair)", () => {
    const pair = (hole: number) =>
      motion([
        { flow: [0.094 + hole, -0.094, hole], opening: 0 },
        { flow: [0.085, -0.007, 0.082] },
        { flow: [0.009, -0.191, -0.078] },
      ]);
    for (const hole of [-0.005, -1e-6, 0, 1e-6, 0.005])
      expect(nameStructureModes(pair(hole)).name).toEqual([null, "main top", "main back"]);
  });

  it("says when another mode nearly had the name", () => {
    const twin: Row = { flow: [0.19, 0.02, 0.05] };
    const { name, rival } = nameStructureModes(motion([air, top, twin, back]));
    expect(name[1]).toBe("main top");
    expect(rival[1]?.index).toBe(2);
    expect(rival[1]?.ratio).toBeGreaterThan(0.8);
    expect(rival[2]).toBeNull();
    // Nothing else is near the main back.
    expect(rival[3]?.ratio ?? 0).toBeLessThan(0.2);
  });

  it("gives equals to the lower mode", () => {
    expect(nameStructureModes(motion([top, top])).name[0]).toBe("main top");
  });

  it("calls the softest bending of the neck by how the nut moves, and keeps it from the plates' names", () => {
    const neck = (nut: readonly [number, number, number]): Row => ({
      flow: [0.3, 0, 0.02],
      share: [0.1, 0, 0.1, 0.8, 0],
      nut,
    });
    const rows = [neck([1, 0.1, 0]), neck([0.1, 2, 0]), neck([0, 0.1, 0.4]), top, neck([0.3, 0, 0])];
    const square = Float64Array.of(1, 1.5, 4, 3, 9);
    expect(nameStructureModes(motion(rows, { square })).name).toEqual([
      "neck, up and down",
      "neck, sideways",
      "neck, twisting",
      "main top",
      null,
    ]);
  });

  it("calls cavity modes by the slope of their pressure", () => {
    const along: Row = { flow: [0.01, 0, 0.01], cavity: [0, 0.6, 0] };
    const across: Row = { flow: [0, 0.01, 0], cavity: [0, 0, 0.6] };
    expect(nameStructureModes(motion([top, along, across])).name).toEqual([
      "main top",
      "cavity, lengthwise",
      "cavity, across",
    ]);
  });

  it("gives no name without its motion: a rigid back, a sealed hole", () => {
    expect(nameStructureModes(motion([{ flow: [0, 0, 0], opening: 0 }])).name).toEqual([null]);
  });
});
