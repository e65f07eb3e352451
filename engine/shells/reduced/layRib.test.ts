import { describe, expect, it } from "vitest";
import { opened, symmetricMultiply } from "#engine/numerics";
import { motionsUnder } from "../body/motionRows.ts";
import { layRib } from "./layRib.ts";
import { panelRib, reduciblePanel, ribbedPanel } from "./ribbedPanel.fixture.ts";
import { plateGround, type RibGround } from "./ribGround.ts";

const dome = { radius: 7, apex: [0.15, 0.1] as const };
const { plate } = reduciblePanel(ribbedPanel(0, 0, dome), 0.016);
const ground = plateGround(plate, 0, 0.045);

/** The ground's rows moved as a rigid body: by `shift`, turned by `turn` about the origin. */
function rigid(g: RibGround, shift: readonly number[], turn: readonly number[]): Float64Array {
  const out = new Float64Array(g.rows.length);
  const p = g.mesh.nodes;
  for (let node = 0; node < p.length / 3; node++) {
    const [x, y, z] = p.subarray(3 * node, 3 * node + 3);
    const motion = [
      shift[0] + turn[1] * z - turn[2] * y,
      shift[1] + turn[2] * x - turn[0] * z,
      shift[2] + turn[0] * y - turn[1] * x,
      ...turn,
    ];
    motion.forEach((v, q) => {
      const k = 6 * node + q;
      for (let e = g.motions.start[k]; e < g.motions.start[k + 1]; e++) out[g.motions.row[e]] = v;
    });
  }
  return out;
}

function form(change: ReturnType<typeof beamAt>, which: "stiffness" | "mass", x: Float64Array): number {
  const u = motionsUnder(change.motions, x);
  return symmetricMultiply(change[which], u).reduce((sum, f, i) => sum + f * u[i], 0);
}

const beamAt = (a: number, b: number) => opened(layRib(ground, panelRib(a, b)))[0];
const motions = [
  [1, 0, 0, 0, 0, 0],
  [0, 1, 0, 0, 0, 0],
  [0, 0, 1, 0, 0, 0],
  [0, 0, 0, 1, 0, 0],
  [0, 0, 0, 0, 1, 0],
  [0, 0, 0, 0, 0, 1],
].map((m) => rigid(ground, m.slice(0, 3), m.slice(3)));

describe("a rib laid along a line that is none of the mesh's", () => {
  it("stores no energy in a rigid motion of its plate", () => {
    for (const [a, b] of [
      [0, 0],
      [0.004, 0.011],
      [-0.02, 0.017],
    ] as const) {
      const beam = beamAt(a, b);
      const bent = motions[2].map((v, r) => v * Math.sin(3 * r));
      const scale = form(beam, "stiffness", bent);
      for (const m of motions) expect(Math.abs(form(beam, "stiffness", m))).toBeLessThan(1e-9 * scale);
    }
  });

  it("weighs what it weighs wherever it lies", () => {
    const { heights, material, width } = panelRib(0, 0);
    const area = heights.slice(1).reduce((sum, [s, h], i) => {
      const [s0, h0] = heights[i];
      return sum + ((s - s0) * (h + h0)) / 2;
    }, 0);
    const mass = material.density * width * 0.2 * area;
    for (const a of [0, 0.013]) expect(form(beamAt(a, a), "mass", motions[2]) / mass).toBeCloseTo(1, 2);
  });

  it("leaves the ground in words", () => {
    const laid = layRib(ground, panelRib(0.08, 0.08));
    expect(laid.ok ? null : laid.reason).toBe("rib-outside");
  });
});
