import type { Movement, Panel, PlyMaterial } from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { bare, isotropic, rectangle } from "./testPlates.ts";
import { grownTop, topOnly } from "./topOnly.ts";

const free = { kind: "free" } as const;
const moves = (along: number, across: number): Movement => ({
  moisture: { along, across },
  heat: { along: 0, across: 0 },
});
const [L, b] = [0.3, 0.03];
const outline = rectangle(L, b);

/** Strip of two glued sheets, 1 below and 2 above, without Poisson's coupling; sheet 2 grows by more. */
const sheets = { E1: 10e9, E2: 3e9, t1: 0.002, t2: 0.001, growth1: 1e-3, growth2: 4e-3 };
function bimetal(slip: Slips): number[] {
  const { E1, E2, t1, t2, growth1, growth2 } = sheets;
  const panel: Panel = {
    ...bare(outline, { ...isotropic(E1, 0, 450), movement: moves(growth1, growth1) }, t1, free),
    patches: [
      {
        // a little beyond the edges, where its working part would stop short
        polygon: Float64Array.of(-0.001, -0.001, L + 0.001, -0.001, L + 0.001, b + 0.001, -0.001, b + 0.001),
        thickness: t2 * (slip["thickness"] ?? 1),
        wood: {
          ...isotropic(E2 * (slip["stiffness"] ?? 1), 0, 450),
          movement: moves(growth2 * (slip["growth"] ?? 1), growth2),
        },
        grainAngle: 0,
        side: "outside",
      },
    ],
  };
  const { at } = grownTop(topOnly(panel, 0.008), 1);
  return [at(L / 2, b / 2)[3]];
}

const m = sheets.t1 / sheets.t2;
const n = sheets.E1 / sheets.E2;
proof(
  "strip of two sheets of different growth: curvature of the bimetal, 1/m",
  {
    source: "TIMOSHENKO-1925 eq. 4",
    quoted:
      ((sheets.growth2 - sheets.growth1) * 6 * (1 + m) ** 2) /
      ((sheets.t1 + sheets.t2) * (3 * (1 + m) ** 2 + (1 + m * n) * (m ** 2 + 1 / (m * n)))),
    relTol: 2e-3,
    because: "shear through the thickness, which the formula leaves out, dies away from the ends",
    mustNotice: { growth: 1.01, thickness: 1.03, stiffness: 1.03 },
  },
  bimetal,
);

/** A strip with a rib glued along it that keeps its length while the strip grows. */
const rib = { width: 0.008, height: 0.012, E: 12e9 };
function ribbedStrip(slip: Slips): number[] {
  const t = 0.003;
  const panel: Panel = {
    ...bare(outline, { ...isotropic(10e9, 0, 450, 1e4), movement: moves(2e-3, 2e-3) }, t, free),
    ribs: [
      {
        path: Float64Array.of(0, b / 2, L, b / 2),
        width: rib.width,
        heights: [[0, rib.height]],
        material: { density: 450, EL: rib.E * (slip["stiffness"] ?? 1), G: 1e14, ET: 1 },
        side: "inside",
      },
    ],
  };
  const { at, stress } = grownTop(topOnly(panel, 0.01), slip["moisture"] ?? 1);
  return [at(L / 2, b / 2)[3], stress.ribs[0].free.tension.value, stress.ribs[0].glued.tension.value];
}

/** Force between the two from equal strain at the glue: F (1/EA1 + 1/EA2 + e2 / sum EI) = difference of growth. */
function ribbedTheory(): number[] {
  const t = 0.003;
  const [EA1, EA2] = [10e9 * b * t, rib.E * rib.width * rib.height];
  const EI = (10e9 * b * t ** 3) / 12 + (rib.E * rib.width * rib.height ** 3) / 12;
  const e = (t + rib.height) / 2;
  const force = 2e-3 / (1 / EA1 + 1 / EA2 + e ** 2 / EI);
  const curvature = (force * e) / EI;
  const own = force / (rib.width * rib.height);
  const bend = (rib.E * curvature * rib.height) / 2;
  return [curvature, own - bend, own + bend];
}
const [curvature, freeFace, gluedFace] = ribbedTheory();
proof(
  "strip that grows over a rib that does not: curvature, 1/m, and the rib's stress at its glued face, Pa",
  {
    source: "CLOSED-FORM equal strains at the glue of two beams, force and moment in balance",
    quoted: [curvature, Math.max(0, freeFace), gluedFace],
    relTol: 0.012,
    absTol: 1,
    because: "the strip's own shear lag across its 30 mm; the greatest stress is met near the middle",
    mustNotice: { moisture: 1.03, stiffness: 1.1 },
  },
  ribbedStrip,
);

const wood: PlyMaterial = {
  density: 420,
  EL: 11e9,
  ER: 0.85e9,
  nuLR: 0.38,
  GLR: 0.75e9,
  GLT: 0.7e9,
  GRT: 0.05e9,
  loss: { L: 0, R: 0, LR: 0, transverse: 0 },
  movement: moves(0.005, 0.15),
};

/** Two sheets of one wood, the upper across the lower. */
function crossPly(slip: Slips): number[] {
  const square = rectangle(0.12, 0.12);
  const panel: Panel = {
    ...bare(square, wood, 0.0015, free),
    patches: [
      {
        polygon: square,
        thickness: 0.0015,
        wood: { ...wood, ER: wood.ER * (slip["across"] ?? 1) },
        grainAngle: (Math.PI / 2) * (slip["angle"] ?? 1),
        side: "outside",
      },
    ],
  };
  const { at } = grownTop(topOnly(panel, 0.008), 0.02 * (slip["moisture"] ?? 1));
  const s = at(0.06, 0.06);
  return [s[0], s[1], s[3], s[4]];
}

/**
 * The same by classical laminate theory. By symmetry (turn over, turn by a right angle) about the interface ex = ey = e0 and
 * kx = -ky = k: two equations of force and moment along x for the lower (along, stiff) and the upper sheet.
 */
function crossPlyTheory(): number[] {
  const [d, h] = [1 - (wood.nuLR ** 2 * wood.ER) / wood.EL, 0.0015];
  const [qL, qR] = [wood.EL / d, wood.ER / d];
  const qLR = wood.nuLR * qR;
  const [gL, gR] = [0.005 * 0.02, 0.15 * 0.02];
  // z over the interface: lower sheet -h .. 0, upper 0 .. h; N = a e + b k - n, M = b e + c k - m
  const a = (qL + qR + 2 * qLR) * h;
  const bend = ((qR - qL) * h * h) / 2;
  const c = ((qL + qR - 2 * qLR) * h ** 3) / 3;
  const [sL, sR] = [qL * gL + qLR * gR, qLR * gL + qR * gR];
  const force = (sL + sR) * h;
  const moment = ((sR - sL) * h * h) / 2;
  const det = a * c - bend * bend;
  const e0 = (c * force - bend * moment) / det;
  const k = (a * moment - bend * force) / det;
  // at the lower sheet's middle, where the model has its surface
  return [e0 - (k * h) / 2, e0 + (k * h) / 2, k, -k];
}

proof(
  "cross-ply of one wood, 2 % moister: strains of the lower sheet's middle, and both curvatures, 1/m",
  {
    source: "CLOSED-FORM classical laminate theory, two sheets at right angles",
    quoted: crossPlyTheory(),
    relTol: 4e-3,
    absTol: 2e-6,
    because: "free edges: over about a thickness they curl otherwise, which the middle hardly feels",
    mustNotice: { moisture: 1.01, across: 1.05, angle: 0.95 },
  },
  crossPly,
);

proof(
  "a free domed plate with a rib that grows as it does: grown evenly, no stress, Pa, and no curvature",
  {
    source: "CLOSED-FORM a body that grows by the same strain everywhere and every way is free of stress",
    quoted: [3e-3, 0, 0, 0],
    absTol: 20,
    relTol: 1e-6,
    because: "rounding: held, it would bear 30 MPa",
    mustNotice: { rib: 1.02, plate: 1.02 },
  },
  (slip) => {
    const even = moves(0.1, 0.1);
    const panel: Panel = {
      ...bare(rectangle(0.2, 0.15), { ...isotropic(10e9, 0.3, 450), movement: even }, 0.003, free),
      dome: { radius: 3, apex: [0.1, 0.07] },
      ribs: [
        {
          path: Float64Array.of(0.02, 0.03, 0.18, 0.12),
          width: 0.006,
          heights: [
            [0, 0.004],
            [0.5, 0.012],
            [1, 0.004],
          ],
          material: {
            density: 450,
            EL: 12e9,
            G: 0.8e9,
            movement: moves(0.1 * (slip["rib"] ?? 1), 0.1 * (slip["plate"] ?? 1)),
          },
          side: "inside",
        },
      ],
    };
    const { at, stress } = grownTop(topOnly(panel, 0.012), 0.03);
    const [sheet] = stress.sheets;
    const most = Math.max(
      sheet.along.tension.value,
      -sheet.along.compression.value,
      sheet.across.tension.value,
    );
    const ribs = stress.ribs[0];
    return [
      at(0.1, 0.02)[0],
      most,
      Math.max(ribs.free.tension.value, -ribs.glued.compression.value, ribs.glued.tension.value),
      Math.max(...stress.ribs[0].ends.map((end) => Math.abs(end.peel))),
    ];
  },
);
