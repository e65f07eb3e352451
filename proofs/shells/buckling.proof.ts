import { opened } from "#engine/numerics";
import {
  type BodyShellSpec,
  bodyBuckling,
  bodyForces,
  bodyGeometric,
  bodyMesh,
  bodyStatic,
  bodySystem,
  bucklingFactors,
  type Panel,
  type PlyMaterial,
  panelForces,
  panelGeometric,
  panelMesh,
  panelSystem,
  pointRows,
  type SpringTerm,
} from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { nodeAt, sheetMotion } from "./mappedShells.ts";
import { evenForces, supported, wasm } from "./supportedPlates.ts";
import { bare, isotropic, rectangle } from "./testPlates.ts";

/** Lowest force per metre along x at which a supported plate a x b buckles. */
function critical(a: number, b: number, wood: PlyMaterial, h: number, size: number): number {
  const panel = bare(rectangle(a, b), wood, h, supported(1e7));
  const system = panelSystem(panel, opened(panelMesh(panel, size)));
  const geometric = panelGeometric(system, evenForces(system, -1, 0));
  const found = opened(bucklingFactors(system.stiffness, geometric, { count: 1, group: system.group }, wasm));
  return found.factors[0];
}

const [a, b, h] = [0.6, 0.4, 0.003];
const D = (E: number, nu: number, thickness: number): number => (E * thickness ** 3) / (12 * (1 - nu * nu));

proof(
  "supported plate under even compression: k = 4 for a square, (m b/a + a/(m b))2 at 3 : 2, where m = 2",
  {
    source: "CLOSED-FORM N = k pi2 D / b2, k = (m b/a + a/(m b))2: Bryan's plate, any text on plates",
    quoted: [4, (4 / 3 + 3 / 4) ** 2].map((k) => (k * Math.PI ** 2 * D(70e9, 0.3, h)) / b ** 2),
    relTol: 0.015,
    because:
      "40 triangles a side with the twist of the edge partly released: 0.8 % low, halving with the mesh (bendingStrains.ts)",
    mustNotice: { stiffness: 1.03, thickness: 1.02 },
  },
  (slip) => {
    const wood = isotropic(70e9 * (slip["stiffness"] ?? 1), 0.3, 2700);
    const t = h * (slip["thickness"] ?? 1);
    return [critical(b, b, wood, t, 0.01), critical(a, b, wood, t, 0.011)];
  },
);

const spruce: PlyMaterial = {
  density: 420,
  EL: 11e9,
  ER: 0.8e9,
  nuLR: 0.37,
  GLR: 0.72e9,
  GLT: 0.68e9,
  GRT: 0.05e9,
  loss: { L: 0, R: 0, LR: 0, transverse: 0 },
};

/** N (m) = pi2 [D1 (m/a)2 + 2 D3 / b2 + D2 a2 / (m2 b4)], the least over m. */
function orthotropicCritical(along: number, across: number, thickness: number): number {
  const { EL, ER, nuLR, GLR } = spruce;
  const f = thickness ** 3 / 12;
  const d1 = (f * EL) / (1 - (nuLR * nuLR * ER) / EL);
  const d2 = (d1 * ER) / EL;
  const d3 = nuLR * d2 + 2 * f * GLR;
  const n = (m: number): number =>
    Math.PI ** 2 *
    (d1 * (m / along) ** 2 + (2 * d3) / across ** 2 + (d2 * along ** 2) / (m ** 2 * across ** 4));
  return Math.min(n(1), n(2), n(3));
}

proof(
  "supported plate of spruce pressed along the grain, and one so short across that it is a half wave",
  {
    source:
      "CLOSED-FORM N(m) = pi2 [D1 (m/a)2 + 2 D3/b2 + D2 a2/(m2 b4)]: orthotropic plate, any text on plates",
    quoted: [orthotropicCritical(0.6, 0.3, 0.0028), orthotropicCritical(0.3, 0.3, 0.0028)],
    relTol: 0.015,
    because: "as for the isotropic plate; the low rolling shear takes 0.2 %",
    mustNotice: { stiffnessAlong: 1.06, stiffnessAcross: 1.2, thickness: 1.02 },
  },
  (slip) => {
    const wood = {
      ...spruce,
      EL: spruce.EL * (slip["stiffnessAlong"] ?? 1),
      ER: spruce.ER * (slip["stiffnessAcross"] ?? 1),
    };
    const t = 0.0028 * (slip["thickness"] ?? 1);
    return [critical(0.6, 0.3, wood, t, 0.009), critical(0.3, 0.3, wood, t, 0.0075)];
  },
);

/** A strip clamped at one end and pressed at the other: forces from its own linear solution, then its factor. */
function strut(slip: Slips): number[] {
  const [L, w, t] = [0.5, 0.04, 0.003 * (slip["thickness"] ?? 1)];
  const panel = bare(rectangle(L, w), isotropic(10e9 * (slip["stiffness"] ?? 1), 0, 450, 1e4), t, {
    kind: "free",
  });
  const system = panelSystem(panel, opened(panelMesh(panel, 0.008)));
  const plan = system.mesh.plan.nodes;
  // one newton over the end, by the length of edge that each node stands for
  const end = Array.from({ length: plan.length / 2 }, (_, k) => k).filter((k) => plan[2 * k] > L - 1e-9);
  const places = end.map((k) => plan[2 * k + 1]).sort((p, q) => p - q);
  const share = (y: number): number => {
    const i = places.indexOf(y);
    return ((places[i + 1] ?? y) - (places[i - 1] ?? y)) / (2 * w);
  };
  const clamped = (s: number): number[] => (s < 1e-9 ? [0, 1, 2, 3, 4, 5] : []);
  const motion = sheetMotion({ system, plan }, clamped, (node) => [
    end.includes(node) ? -share(plan[2 * node + 1]) : 0,
    0,
    0,
    0,
    0,
    0,
  ]);
  const geometric = panelGeometric(system, panelForces(system, motion));
  const held = { ...system.stiffness, values: system.stiffness.values.slice() };
  for (let node = 0; node < plan.length / 2; node++)
    for (const m of clamped(plan[2 * node])) held.values[held.colStart[system.dof[6 * node + m]]] *= 1e9;
  const found = opened(bucklingFactors(held, geometric, { count: 2, group: system.group }, wasm));
  return [motion[6 * nodeAt(plan, L, w / 2)], ...found.factors];
}

const stripEI = (10e9 * 0.04 * 0.003 ** 3) / 12;
proof(
  "Euler's strut of shell triangles, clamped and free: shortening under 1 N, first two loads",
  {
    source: "CLOSED-FORM P = (n - 1/2)2 pi2 EI / L2, shortening L / EA",
    quoted: [-0.5 / (10e9 * 0.04 * 0.003), ...[0.5, 1.5].map((n) => ((n * Math.PI) / 0.5) ** 2 * stripEI)],
    relTol: 0.005,
    because: "nu = 0 and stiff in shear, so a beam; 60 triangles along it",
    mustNotice: { stiffness: 1.01, thickness: 1.01 },
  },
  strut,
);

/**
 * A strip with a rib under it and a string between its ends at the height of the common neutral axis: what the string
 * presses it buckles like a strut with hinged ends, as the string stays in the line of the ends.
 */
function strungStrip(slip: Slips): number {
  const [L, w, t, wr, hr, E] = [0.5, 0.04, 0.003, 0.008, 0.01, 10e9];
  const areas = [w * t, wr * hr] as const;
  const axis = (-areas[1] * (t + hr)) / 2 / (areas[0] + areas[1]);
  const panel: Panel = {
    ...bare(rectangle(L, w), isotropic(E, 0, 450, 1e4), t, { kind: "free" }),
    ribs: [
      {
        path: Float64Array.of(0, w / 2, L, w / 2),
        width: wr,
        heights: [[0, hr * (slip["ribHeight"] ?? 1)]],
        material: { density: 450, EL: E * (slip["ribStiffness"] ?? 1), G: 1e13, ET: 1 },
        side: "inside",
      },
    ],
  };
  const spec: BodyShellSpec = {
    top: panel,
    back: null,
    heights: { depthAtTail: 0.1, depthAtNeck: 0.1, length: L },
    sides: null,
    blocks: [],
    neck: null,
    rods: [],
    masses: [],
    springs: [],
    support: "free",
  };
  const system = opened(bodySystem(spec, opened(bodyMesh(spec, { top: 0.01, back: 0.01, side: 0.01 }))));
  const ends = [0, L].map((x) => ({ part: "top" as const, x, y: w / 2, height: axis }));
  const loads = ends.map((at, k) => ({
    kind: "point" as const,
    at,
    force: [k === 0 ? 1 : -1, 0, 0] as const,
    couple: [0, 0, 0] as const,
  }));
  const solved = opened(bodyStatic(system, [loads], wasm))[0];
  const geometric = bodyGeometric(system, bodyForces(system, solved.motion), solved.motion);
  const found = opened(
    bodyBuckling(system, geometric, slip["string"] === 0 ? [] : chord(system, ends, L), 1, wasm),
  );
  return found.factors[0];
}

/** The string's own stiffness square to itself at a pull of 1 N: 1 / L across, both ways. */
function chord(
  system: Parameters<typeof pointRows>[0],
  ends: Parameters<typeof pointRows>[1],
  length: number,
): SpringTerm[] {
  const { start, row, weight } = opened(pointRows(system, ends));
  return [1, 2].map((q) => {
    const sums = new Map<number, number>();
    for (const end of [0, 1]) {
      for (let p = start[6 * end + q]; p < start[6 * end + q + 1]; p++)
        sums.set(row[p], (sums.get(row[p]) ?? 0) + (end === 0 ? -1 : 1) * weight[p]);
    }
    return {
      stiffness: 1 / length,
      row: Uint32Array.from(sums.keys()),
      weight: Float64Array.from(sums.values()),
    };
  });
}

const ribbedEI = ((): number => {
  const [w, t, wr, hr] = [0.04, 0.003, 0.008, 0.01];
  const [p, r] = [w * t, wr * hr];
  const c = (-r * (t + hr)) / 2 / (p + r);
  return 10e9 * ((w * t ** 3) / 12 + p * c ** 2 + (wr * hr ** 3) / 12 + r * ((t + hr) / 2 + c) ** 2);
})();

proof(
  "ribbed strip pressed by a string between its ends: Euler's hinged strut of the composite section",
  {
    source: "CLOSED-FORM P = pi2 EI / L2; a string between the ends keeps to their line",
    quoted: (Math.PI / 0.5) ** 2 * ribbedEI,
    relTol: 0.02,
    because: "the rib takes up its force over some heights at the ends (1 %); the formula knows no shear lag",
    mustNotice: { ribHeight: 1.05, ribStiffness: 1.1, string: 0 },
  },
  strungStrip,
);
