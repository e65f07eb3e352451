import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { egg } from "./cavity.fixture.ts";
import { cavityModes } from "./cavityModes.ts";
import { cavityResidual } from "./cavityResidual.ts";
import { wallFlow } from "./wallFlow.ts";

const closed = opened(cavityModes({ ...egg, hole: null }, quiet));
const open = opened(cavityModes(egg, quiet));

/** The three translations and three turns of a surface. */
function rigid(nodes: Float64Array): Float64Array {
  const n = nodes.length / 3;
  const out = new Float64Array(6 * 3 * n);
  for (let i = 0; i < n; i++) {
    const [x, y, z] = nodes.subarray(3 * i, 3 * i + 3);
    const moves = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0, -z, y],
      [z, 0, -x],
      [-y, x, 0],
    ];
    for (const [k, u] of moves.entries()) out.set(u, 3 * (k * n + i));
  }
  return out;
}

describe("wallFlow", () => {
  it("lets no air be pressed by a body that moves as a whole", () => {
    const { wall, count } = closed;
    const { coupling } = opened(wallFlow(closed, wall, rigid(wall.nodes)));
    const breathing = wall.nodes.map((_, i) => (i % 3 === 2 && wall.nodes[i] > -0.05 ? 1 : 0));
    const whole = opened(wallFlow(closed, wall, breathing)).coupling[0];
    expect(whole).toBeGreaterThan(0.1);
    for (let k = 0; k < 6; k++) expect(Math.abs(coupling[k * count])).toBeLessThan(2e-5 * whole);
  });

  it("leaves just the opening's part with a hole", () => {
    const { wall, count, aperture } = open;
    const { coupling } = opened(wallFlow(open, wall, rigid(wall.nodes)));
    const area = aperture!.areas.reduce((sum, a) => sum + a, 0);
    expect(-coupling[2 * count] / area).toBeCloseTo(1, 1);
    expect(-coupling[2 * count] / (Math.PI * 0.045 ** 2)).toBeCloseTo(1, 2);
  });

  it("moves air to and fro when a body moves as a whole: its listed modes and the rest weigh what is in it", () => {
    const { wall, count, omega, volume, air, grossVolume } = closed;
    const flow = opened(wallFlow(closed, wall, rigid(wall.nodes)));
    const rest = opened(cavityResidual(closed, flow, quiet));
    for (let k = 0; k < 3; k++) {
      let mass = rest[7 * k];
      for (let n = 1; n < count; n++)
        mass +=
          (air.density * air.soundSpeed ** 2 * flow.coupling[k * count + n] ** 2) /
          (volume[n] * omega[n] ** 2);
      expect(mass / (air.density * grossVolume)).toBeCloseTo(1, 3);
    }
  });

  it("says which part of the structure is missing", () => {
    const { wall } = closed;
    const part = wall.part.map((p) => (p === 1 ? 0 : p));
    expect(wallFlow(closed, { ...wall, part }, wall.nodes)).toMatchObject({
      reason: "part-missing",
      detail: "the structure has no back, but the cavity has one",
    });
  });
});
