/** A guitar-like body of our own invention, for the tests of this folder: all figures typed here, none measured. */
import { type BodySpec, bodyPlan } from "#engine/geometry";
import { opened } from "#engine/numerics";
import type { Panel, PlyMaterial } from "../panel.ts";
import type { BodyShellSpec } from "./bodySpec.ts";

const softwood: PlyMaterial = {
  density: 420,
  EL: 11e9,
  ER: 0.85e9,
  nuLR: 0.38,
  GLR: 0.75e9,
  GLT: 0.7e9,
  GRT: 0.05e9,
  loss: { L: 0.007, R: 0.02, LR: 0.016, transverse: 0.02 },
};

const hardwood: PlyMaterial = {
  density: 780,
  EL: 13e9,
  ER: 1.7e9,
  nuLR: 0.35,
  GLR: 1.4e9,
  GLT: 1.1e9,
  GRT: 0.35e9,
  loss: { L: 0.006, R: 0.015, LR: 0.012, transverse: 0.015 },
};

const plan: BodySpec = {
  outline: {
    kind: "dimensions",
    length: 0.505,
    lowerBout: { width: 0.4, station: 0.16 },
    waist: { width: 0.25, station: 0.295 },
    upperBout: { width: 0.288, station: 0.4 },
    tailRadius: 0.45,
    neckRadius: 0.3,
  },
  cutaway: null,
  hole: { kind: "ellipse", centre: [0.355, 0], semiAxes: [0.05, 0.05], angle: 0 },
  topDome: { radius: 9, apex: [0.2, 0] },
  backDome: { radius: 4.5, apex: [0.22, 0] },
  depthAtTail: 0.118,
  depthAtNeck: 0.098,
  topThickness: 0.0028,
  backThickness: 0.0025,
  sideThickness: 0.0022,
  hand: "right",
};

const brace = (x0: number, y0: number, x1: number, y1: number, height: number): Panel["ribs"][number] => ({
  path: Float64Array.of(x0, y0, x1, y1),
  width: 0.007,
  heights: [
    [0, 0.003],
    [0.25, height],
    [0.75, height],
    [1, 0.003],
  ],
  material: { density: 430, EL: 12e9, G: 0.75e9, loss: { L: 0.007, G: 0.02, T: 0.02 } },
  side: "inside",
});

export interface FixtureOptions {
  /** Move the hole so that it breaks the edge of the treble side. */
  readonly holeAtEdge?: boolean;
}

/** Closed box with two end blocks, neck, rods, a bridge and one string's spring; parts are dropped by spreading null over it. */
export function guitarBody(o: FixtureOptions = {}): BodyShellSpec {
  const made = opened(
    bodyPlan(
      o.holeAtEdge
        ? { ...plan, hole: { kind: "ellipse", centre: [0.4, -0.12], semiAxes: [0.05, 0.04], angle: 0 } }
        : plan,
    ),
  );
  const free = { kind: "free" } as const;
  return {
    top: {
      outline: made.topRegion.outline,
      holes: made.topRegion.holes,
      dome: plan.topDome,
      wood: softwood,
      thickness: 0.0028,
      grainAngle: 0,
      ribs: [
        brace(0.1, -0.15, 0.3, 0.105, 0.014),
        brace(0.1, 0.15, 0.3, -0.105, 0.014),
        brace(0.43, -0.1, 0.43, 0.1, 0.016),
      ],
      patches: [
        {
          polygon: Float64Array.of(0.17, -0.08, 0.2, -0.08, 0.2, 0.08, 0.17, 0.08),
          thickness: 0.008,
          wood: hardwood,
          grainAngle: Math.PI / 2,
          side: "outside",
        },
      ],
      film: null,
      edge: free,
    },
    back: {
      outline: made.backRegion.outline,
      holes: [],
      dome: plan.backDome,
      wood: hardwood,
      thickness: 0.0025,
      grainAngle: 0,
      ribs: [
        brace(0.1, -0.17, 0.1, 0.17, 0.012),
        brace(0.2, -0.17, 0.2, 0.17, 0.012),
        brace(0.32, -0.11, 0.32, 0.11, 0.014),
        brace(0.42, -0.12, 0.42, 0.12, 0.014),
      ],
      patches: [],
      film: null,
      edge: free,
    },
    heights: { depthAtTail: plan.depthAtTail, depthAtNeck: plan.depthAtNeck, length: made.length },
    sides: {
      outline: made.outlinePolygon,
      plies: [{ material: hardwood, thickness: 0.0022, grainAngle: 0 }],
      film: null,
      topLining: { width: 0.006, height: 0.014, material: softwood, alongShare: 1 / 6 },
      backLining: { width: 0.006, height: 0.014, material: softwood, alongShare: 1 / 6 },
      open: made.openEdge,
    },
    blocks: [
      { name: "neck block", centre: [0.48, 0, -0.05], size: [0.045, 0.07, 0.098], mass: 0.15 },
      { name: "tail block", centre: [0.013, 0, -0.059], size: [0.022, 0.07, 0.116], mass: 0.08 },
    ],
    neck: {
      from: [0.505, 0, -0.008],
      to: [0.86, 0, -0.002],
      stations: [
        {
          s: 0,
          EA: 1.6e7,
          EIz: 900,
          EIy: 4500,
          GJ: 400,
          GA: 1e6,
          massPerLength: 0.95,
          centre: 0,
          polar: 3e-4,
        },
        {
          s: 1,
          EA: 1.2e7,
          EIz: 420,
          EIy: 2600,
          GJ: 220,
          GA: 7e5,
          massPerLength: 0.7,
          centre: 0.002,
          polar: 2e-4,
        },
      ],
      lossE: 0.01,
      lossG: 0.02,
      headMass: 0.28,
      headCentre: [0.94, 0, -0.02],
      headSize: [0.17, 0.07, 0.015],
      attach: "neck block",
      tongue: null,
    },
    rods: [
      {
        name: "bass rod",
        from: [0.47, 0.03, -0.04],
        to: [0.3, 0.123, -0.08],
        diameter: 0.009,
        bore: 0.006,
        stiffness: 120e9,
        density: 1600,
      },
      {
        name: "treble rod",
        from: [0.47, -0.03, -0.04],
        to: [0.3, -0.123, -0.08],
        diameter: 0.009,
        bore: 0.006,
        stiffness: 120e9,
        density: 1600,
      },
    ],
    masses: [
      { name: "tuners", mass: 0.12, at: [0.94, 0, -0.02] },
      { name: "end pin", mass: 0.01, at: [0, 0, -0.06] },
    ],
    springs: [
      {
        a: { part: "top", x: 0.185, y: 0.02, height: 0.012 },
        b: { part: "neck", at: [0.86, 0.015, 0.01] },
        stiffness: 2.5e4,
      },
    ],
    support: "free",
  };
}
