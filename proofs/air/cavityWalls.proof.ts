/** The cavity's walls: air carried by a moving wall, listed modes and the rest together. */
import { describe, expect, it } from "vitest";
import { cavityResidual, wallFlow } from "#engine/air";
import { opened, quiet } from "#engine/numerics";
import { proof } from "#proofs/harness";
import { air, boxModes } from "./boxCavity.ts";

const [lx, ly, depth] = [0.48, 0.36, 0.1];
const orders = [
  [1, 0],
  [0, 1],
  [1, 1],
  [2, 1],
] as const;

/** The lid on a grid of 5 mm, with one triangle each for the parts that stay at rest. */
function lid() {
  const nodes: number[] = [];
  const triangles: number[] = [];
  const [across, along] = [96, 72];
  for (let j = 0; j <= along; j++)
    for (let i = 0; i <= across; i++) nodes.push((lx * i) / across, (ly * j) / along, 0);
  for (let j = 0; j < along; j++) {
    for (let i = 0; i < across; i++) {
      const p = j * (across + 1) + i;
      triangles.push(p, p + 1, p + across + 2, p, p + across + 2, p + across + 1);
    }
  }
  const moving = nodes.length / 3;
  const part = new Array(triangles.length / 3).fill(0);
  nodes.push(0, 0, -depth, 0, ly, -depth, lx, 0, -depth);
  for (const still of [1, 2]) {
    triangles.push(moving, moving + 1, moving + 2);
    part.push(still);
  }
  return {
    nodes: Float64Array.from(nodes),
    triangles: Uint32Array.from(triangles),
    part: Uint8Array.from(part),
    moving,
  };
}

/** kg over that of the lid's area: mass of air carried by each cosine shape, from modes to `toFrequency` and the rest. */
function carried(toFrequency: number, residualShare = 1, place = 0) {
  const cavity = boxModes({ lengths: [lx, ly, depth], hole: null }, { toFrequency, size: 0.06 });
  const surface = lid();
  const total = surface.nodes.length / 3;
  const motions = new Float64Array(orders.length * 3 * total);
  orders.forEach(([m, n], k) => {
    for (let i = 0; i < surface.moving; i++)
      motions[3 * (k * total + i) + 2] =
        Math.cos((m * Math.PI * surface.nodes[3 * i]!) / lx + place) *
        Math.cos((n * Math.PI * surface.nodes[3 * i + 1]!) / ly);
  });
  const flow = opened(wallFlow(cavity, surface, motions));
  const rest = opened(cavityResidual(cavity, flow, quiet));
  const whole = orders.map((_, k) => {
    let sum = residualShare * rest[k * orders.length + k]!;
    for (let n = 1; n < cavity.count; n++)
      sum +=
        (air.density * air.soundSpeed ** 2 * flow.coupling[k * cavity.count + n]! ** 2) /
        (cavity.volume[n]! * cavity.omega[n]! ** 2);
    return sum;
  });
  return { whole, share: orders.map((_, k) => rest[k * orders.length + k]! / whole[k]!) };
}

const exact = orders.map(([m, n]) => {
  const k = Math.hypot((m * Math.PI) / lx, (n * Math.PI) / ly);
  return (air.density * lx * ly) / (k * Math.tanh(k * depth)) / ((m > 0 ? 2 : 1) * (n > 0 ? 2 : 1));
});

proof(
  "air carried by a lid that moves as cos(m pi x/Lx) cos(n pi y/Ly) over a box 0.1 m deep, at low frequency",
  {
    source: "CLOSED-FORM (rho coth(k d)/k an area)",
    quoted: exact,
    relTol: 5e-3,
    because: "elements of 60 mm: observed 3e-4 for (1, 0), 3.4e-3 for (2, 1)",
    mustNotice: { residual: 0, place: 1 },
  },
  (slip) => carried(1500, slip.residual ?? 1, slip.place === undefined ? 0 : 0.15).whole,
);

describe("mass beyond the listed modes", () => {
  it("falls as more modes are listed, and the whole stays", () => {
    const [few, many] = [carried(800), carried(2000)];
    few.share.forEach((share, k) => {
      expect(many.share[k]!).toBeLessThan(0.7 * share);
      expect(Math.abs(many.whole[k]! / few.whole[k]! - 1)).toBeLessThan(2e-3);
    });
  });
});
