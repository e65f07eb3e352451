import { expect, it } from "vitest";
import type { BodyPlan } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { rimBody } from "./rimBody.ts";

/** A square frame of sides 0.4 m, 0.1 m deep, with one heavy box: only what rimBody reads is filled in. */
const wood = { density: 500 };
const lining = { width: 0.006, height: 0.014, wood: { density: 400 } };
const build = {
  body: { depthAtTail: 0.1, depthAtNeck: 0.1 },
  sides: { plies: [{ wood, thickness: 0.002 }], film: null, topLining: lining, backLining: lining },
  rimParts: [
    { name: "block", mass: 0.3, centre: [0.2, 0.05, -0.04], size: [0.06, 0.08, 0.1], volumeInside: 0 },
  ],
} as unknown as Build;
const outlinePolygon = Float64Array.from(
  // 400 points, so that a stretch of side may stand for a point in plan
  Array.from({ length: 400 }, (_, i) => {
    const s = i % 100;
    const along = -0.2 + 0.004 * s;
    return [
      [along, -0.2],
      [0.2, along],
      [-along, 0.2],
      [-0.2, -along],
    ][Math.floor(i / 100)]!;
  }).flat(),
);
const plan = { outlinePolygon, length: 0.4 } as unknown as BodyPlan;

it("weighs sides, linings and parts, with their centre and inertia in closed form", () => {
  const m = rimBody(build, plan);
  const side = 1.6 * 0.1 * 0.002 * 500;
  const linings = 2 * 1.6 * 0.006 * 0.014 * 400;
  const mass = side + linings + 0.3;
  expect(m[0]).toBeCloseTo(mass, 12);
  expect(m[14]).toBeCloseTo(mass, 12);
  // first moments: u_y of the mass centre under a turn about z is +x, u_x is -y
  expect(m[6 + 5]).toBeCloseTo(0.3 * 0.2, 10);
  expect(m[5]).toBeCloseTo(-0.3 * 0.05, 10);
  // about z: a thin square frame of side a has m a2 / 3 about its centre (each side m/4 (a2/4 + a2/12))
  const frame = (side + linings) * (0.4 ** 2 / 3);
  const box = 0.3 * (0.2 ** 2 + 0.05 ** 2 + (0.06 ** 2 + 0.08 ** 2) / 12);
  expect(m[35]! / (frame + box)).toBeCloseTo(1, 4);
  for (let i = 0; i < 6; i++) for (let j = 0; j < i; j++) expect(m[6 * i + j]).toBeCloseTo(m[6 * j + i]!, 12);
});
