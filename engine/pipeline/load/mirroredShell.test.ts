import { expect, it } from "vitest";
import type { BodyShellSpec, Panel } from "#engine/shells";
import { mirroredShell } from "./mirroredShell.ts";

const wood = {
  density: 420,
  EL: 11e9,
  ER: 0.85e9,
  nuLR: 0.38,
  GLR: 0.75e9,
  GLT: 0.7e9,
  GRT: 0.05e9,
  loss: { L: 0, R: 0, LR: 0, transverse: 0 },
};
const outline = Float64Array.of(0, -0.1, 0.4, -0.08, 0.5, 0.02, 0.4, 0.12, 0, 0.1);
const patch = {
  polygon: Float64Array.of(0.1, 0.02, 0.2, 0.02, 0.2, 0.06),
  thickness: 0.003,
  wood,
  grainAngle: 0.2,
};
const top: Panel = {
  outline,
  holes: [Float64Array.of(0.3, 0, 0.35, 0, 0.35, 0.04)],
  dome: { radius: 6, apex: [0.2, 0.01] },
  wood,
  thickness: { spots: [[0.1, 0.03, 0.003]] },
  grainAngle: 0.03,
  ribs: [
    {
      path: Float64Array.of(0.1, 0.02, 0.3, 0.07),
      width: 0.006,
      heights: [[0, 0.01]],
      material: { density: 400, EL: 11e9, G: 0.7e9 },
      side: "inside",
    },
  ],
  patches: [
    { ...patch, side: "outside" },
    { ...patch, side: "inside" },
  ],
  film: null,
  edge: { kind: "free" },
};
const spec: BodyShellSpec = {
  top,
  back: null,
  heights: { depthAtTail: 0.1, depthAtNeck: 0.1, length: 0.5 },
  sides: {
    outline,
    plies: [{ material: wood, thickness: 0.002, grainAngle: 0.1 }],
    film: null,
    topLining: null,
    backLining: null,
    open: [Float64Array.of(0.4, -0.08, 0.5, 0.02)],
  },
  blocks: [{ name: "neck block", centre: [0.48, 0.01, -0.05], size: [0.04, 0.06, 0.1], mass: 0.1 }],
  neck: null,
  rods: [
    {
      name: "rod",
      from: [0.45, 0.02, -0.05],
      to: [0.2, 0.1, -0.05],
      diameter: 0.01,
      bore: 0.008,
      stiffness: 1e11,
      density: 1600,
    },
  ],
  masses: [],
  springs: [],
  support: "free",
};

it("turned over twice a body is itself, but for where its polygons begin", () => {
  const twice = mirroredShell(
    mirroredShell(spec, () => false),
    () => false,
  );
  expect(twice).toEqual(spec);
});

it("turned over keeps the bridge, its polygons turning as before", () => {
  const once = mirroredShell(spec, (k) => k === 0);
  expect(once.top?.patches[0]).toBe(top.patches[0]);
  expect(once.top?.patches[1].polygon[1]).toBeCloseTo(-0.06, 12);
  const area = (p: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < p.length; i += 2) {
      const j = (i + 2) % p.length;
      sum += (p[i] * p[j + 1] - p[j] * p[i + 1]) / 2;
    }
    return sum;
  };
  expect(area(once.top!.outline)).toBeCloseTo(area(outline), 12);
  expect(once.rods[0].to).toEqual([0.2, -0.1, -0.05]);
});
