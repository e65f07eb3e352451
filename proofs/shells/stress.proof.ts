import { opened } from "#engine/numerics";
import {
  type BodyLoad,
  bondEdge,
  nodalStrains,
  type Panel,
  panelForces,
  panelMesh,
  panelStatic,
  panelSystem,
} from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { supported } from "./supportedPlates.ts";
import { bare, isotropic, rectangle } from "./testPlates.ts";
import { loadedTop, topOnly } from "./topOnly.ts";

const free = { kind: "free" } as const;

/** Moments, N m/m, at places of a square plate of side 1 under an even pressure of 1 Pa, D = 1. */
function squareMoments(
  edge: Panel["edge"],
  places: readonly (readonly [number, number])[],
  slip: Slips,
): number[] {
  const [h, nu] = [0.01, 0.3 * (slip["poisson"] ?? 1)];
  const panel = bare(rectangle(1, 1), isotropic((12 * (1 - nu * nu)) / h ** 3, nu, 400), h, edge);
  const system = panelSystem(panel, opened(panelMesh(panel, 0.03)));
  const force = slip["load"] ?? 1;
  const load = { polygon: rectangle(1, 1), force: [0, 0, force], couple: [0, 0, 0] } as const;
  const { motion } = opened(panelStatic(system, [load], []));
  const { plan, triangles } = system.mesh;
  const found = nodalStrains({
    plan: plan.nodes,
    triangles,
    region: new Uint32Array(triangles.length / 3),
    strains: panelForces(system, motion),
  });
  return places.map(([x, y]) => {
    const away = Array.from(found.node, (node) =>
      Math.hypot(plan.nodes[2 * node] - x, plan.nodes[2 * node + 1] - y),
    );
    return found.strains[8 * away.indexOf(Math.min(...away)) + 3];
  });
}

proof(
  "square plate clamped all round under even pressure: moment in the middle and at the middle of an edge, q a2",
  {
    source: "TIMO table 35 (pl.st.cccc.m)",
    quoted: [0.0231, -0.0513],
    relTol: 0.04,
    because:
      "at the edge the recovered moment goes on straight while the true one curves: 3.4 % low with edges of a / 33",
    mustNotice: { load: 0.97 },
  },
  (slip) =>
    squareMoments(
      { kind: "clamped" },
      [
        [0.5, 0.5],
        [1, 0.5],
      ],
      slip,
    ),
);

proof(
  "square plate on supports under even pressure: moment in the middle, q a2",
  {
    source: "TIMO table 8, 0.0479 for Poisson's ratio 0.3 (from memory)",
    quoted: 0.0479,
    relTol: 0.01,
    because: "edge twist releases 0.4 % (flatPlates.proof.ts)",
    mustNotice: { load: 1.02, poisson: 1.1 },
  },
  (slip) => squareMoments(supported(1e7), [[0.5, 0.5]], slip),
);

const [L, b, t] = [0.4, 0.03, 0.003];
/** Two pairs of forces across a strip: even moment P a between the inner ones, even shear P outside. */
const P = 5;
function fourPoints(slip: Slips): BodyLoad[] {
  const across = (x: number, force: number): BodyLoad => ({
    kind: "footprint",
    polygon: Float64Array.of(x - 0.005, 0, x + 0.005, 0, x + 0.005, b, x - 0.005, b),
    at: [x, b / 2, 0],
    force: [0, 0, force * (slip["load"] ?? 1)],
  });
  return [across(0.01, P), across(0.16, -P), across(0.24, -P), across(L - 0.01, P)];
}
const moment = P * 0.15;

proof(
  "strip bent by four forces: stress at its faces, 6 M / b h2, Pa; shear through it, 3/2 P / b h",
  {
    source: "WH-CH9 beam bending",
    quoted: [(6 * moment) / (b * t * t), -(6 * moment) / (b * t * t)],
    relTol: 0.012,
    because: "the greatest value stands beside an inner load, spread over 10 mm",
    mustNotice: { load: 1.03, thickness: 1.02 },
  },
  (slip) => {
    const panel = bare(rectangle(L, b), isotropic(10e9, 0, 450), t * (slip["thickness"] ?? 1), free);
    const [sheet] = loadedTop(topOnly(panel, 0.008), fourPoints(slip)).stress.sheets;
    return [sheet.along.tension.value, sheet.along.compression.value];
  },
);

/** Two glued sheets of different wood as one beam; moduli-weighted section. */
const upper = { E: 16e9, t: 0.002 };
function laminatedFaces(): number[] {
  const [A1, A2] = [10e9 * t, upper.E * upper.t];
  const centre = (A2 * (t + upper.t)) / 2 / (A1 + A2);
  const D =
    (10e9 * t ** 3) / 12 +
    A1 * centre ** 2 +
    (upper.E * upper.t ** 3) / 12 +
    A2 * ((t + upper.t) / 2 - centre) ** 2;
  const k = moment / b / D;
  // the forces push the middle down: the upper face is pressed
  return [
    10e9 * k * (t / 2 + centre),
    -upper.E * k * (t / 2 + upper.t - centre),
    10e9 * k * (centre - t / 2),
  ];
}
proof(
  "beam of two glued sheets: stress of the lower at its outer face, of the upper at its outer face, and of the lower at the joint",
  {
    source: "CLOSED-FORM transformed section of a two-sheet beam",
    quoted: laminatedFaces(),
    relTol: 0.015,
    because: "the greatest value stands beside an inner load, spread over 10 mm",
    mustNotice: { load: 1.03, upper: 1.06 },
  },
  (slip) => {
    const panel: Panel = {
      ...bare(rectangle(L, b), isotropic(10e9, 0, 450), t, free),
      patches: [
        {
          polygon: Float64Array.of(
            -0.001,
            -0.001,
            L + 0.001,
            -0.001,
            L + 0.001,
            b + 0.001,
            -0.001,
            b + 0.001,
          ),
          thickness: upper.t,
          wood: isotropic(upper.E * (slip["upper"] ?? 1), 0, 450),
          grainAngle: 0,
          side: "outside",
        },
      ],
    };
    const { stress, at } = loadedTop(topOnly(panel, 0.008), fourPoints(slip));
    const s = at(L / 2, b / 2);
    return [
      stress.sheets[0].along.tension.value,
      stress.sheets[1].along.compression.value,
      10e9 * (s[0] + (t / 2) * s[3]),
    ];
  },
);

const rib = { width: 0.008, height: 0.012, E: 12e9 };
/** Strip and rib as one beam: neutral axis over the strip's middle, bending stiffness, first moment E S of the rib. */
function ribbedSection() {
  const [EA1, EA2] = [10e9 * b * t, rib.E * rib.width * rib.height];
  const arm = -(t + rib.height) / 2;
  const centre = (EA2 * arm) / (EA1 + EA2);
  const EI =
    (10e9 * b * t ** 3) / 12 +
    EA1 * centre ** 2 +
    (rib.E * rib.width * rib.height ** 3) / 12 +
    EA2 * (arm - centre) ** 2;
  return { centre, EI, ES: EA2 * (centre - arm) };
}
const section = ribbedSection();
proof(
  "rib and strip as one beam: rib's free and glued face, strip's outer face, Pa; shear in the glue V Q / I b",
  {
    source: "CLOSED-FORM transformed section; glue VQ/Ib",
    quoted: [
      (rib.E * moment * (section.centre + t / 2 + rib.height)) / section.EI,
      (10e9 * moment * (section.centre - t / 2)) / section.EI,
      (P * section.ES) / section.EI / rib.width,
    ],
    relTol: 0.04,
    because:
      "greatest values stand beside an inner load, which bends the strip by itself; shear lag across its 30 mm",
    mustNotice: { load: 1.05, stiffness: 1.3, height: 1.05 },
  },
  (slip) => {
    const panel: Panel = {
      ...bare(rectangle(L, b), isotropic(10e9, 0, 450, 1e4), t, free),
      ribs: [
        {
          path: Float64Array.of(0, b / 2, L, b / 2),
          width: rib.width,
          heights: [[0, rib.height * (slip["height"] ?? 1)]],
          material: { density: 450, EL: rib.E * (slip["stiffness"] ?? 1), G: 1e14, ET: 1 },
          side: "inside",
        },
      ],
    };
    const { stress } = loadedTop(topOnly(panel, 0.008), fourPoints(slip));
    const [sheet] = stress.sheets;
    return [
      stress.ribs[0].free.tension.value,
      sheet.along.compression.value,
      Math.abs(stress.ribs[0].glue.peak.value),
    ];
  },
);

/** Opening of two sheets on a bed by finite differences, the first bent at the edge: pressure there, Pa. */
function bedByDifferences(slip: Slips): number {
  const [D1, D2, k] = [20, 90, 1.5e11 * (slip["bed"] ?? 1)];
  const [curvature, Q] = [2, -600];
  const beta = ((k * (1 / D1 + 1 / D2)) / 4) ** 0.25;
  const h = 0.02 / beta;
  const n = 700;
  // delta'''' + 4 beta4 delta = 0 on nodes -2 .. n + 1; banded elimination on five diagonals
  const rows: number[][] = [];
  const right: number[] = [];
  const size = n + 4;
  const row = (entries: readonly (readonly [number, number])[], value: number): void => {
    const r = new Array<number>(size).fill(0);
    for (const [at, v] of entries) r[at] += v;
    rows.push(r);
    right.push(value);
  };
  row(
    [
      [1, 1],
      [2, -2],
      [3, 1],
    ],
    curvature * h ** 2,
  );
  row(
    [
      [0, -1],
      [1, 2],
      [3, -2],
      [4, 1],
    ],
    ((2 * Q) / D1) * h ** 3,
  );
  for (let i = 2; i < n + 2; i++)
    row(
      [
        [i - 2, 1],
        [i - 1, -4],
        [i, 6 + 4 * beta ** 4 * h ** 4],
        [i + 1, -4],
        [i + 2, 1],
      ],
      0,
    );
  row([[n + 2, 1]], 0);
  row([[n + 3, 1]], 0);
  for (let p = 0; p < size; p++) {
    let pivot = p;
    for (let i = p; i < Math.min(size, p + 6); i++)
      if (Math.abs(rows[i][p]) > Math.abs(rows[pivot][p])) pivot = i;
    [rows[p], rows[pivot]] = [rows[pivot], rows[p]];
    [right[p], right[pivot]] = [right[pivot], right[p]];
    for (let i = p + 1; i < Math.min(size, p + 6); i++) {
      const f = rows[i][p] / rows[p][p];
      if (f === 0) continue;
      for (let j = p; j < Math.min(size, p + 12); j++) rows[i][j] -= f * rows[p][j];
      right[i] -= f * right[p];
    }
  }
  for (let p = size - 1; p >= 0; p--) {
    for (let j = p + 1; j < Math.min(size, p + 12); j++) right[p] -= rows[p][j] * right[j];
    right[p] /= rows[p][p];
  }
  return k * right[2];
}
const bond = {
  curvature: 2,
  shearForce: -600,
  stretch: 3e-3,
  D: [20, 90],
  EA: [3e7, 1.4e7],
  shearBed: 1e11,
} as const;
proof(
  "edge of a glued sheet: peel against its equation solved by finite differences, Pa",
  {
    source: "HETENYI semi-infinite beam on an elastic bed",
    quoted: bedByDifferences({}),
    relTol: 2e-3,
    because: "differences of second order, fifty steps to the length 1 / beta",
    mustNotice: { bed: 1.02, curvature: 1.01 },
  },
  (slip) =>
    bondEdge({ ...bond, bed: 1.5e11 * (slip["bed"] ?? 1), curvature: 2 * (slip["curvature"] ?? 1) }).peel,
);
