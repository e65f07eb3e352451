import { opened } from "#engine/numerics";
import { type Panel, panelMesh, panelStatic, panelSystem } from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { bare, clampedExcept, isotropic, modesOf, rectangle } from "./testPlates.ts";

const E = 10e9;
const rho = 450;

/** A strip L x b x t with a rib w x h glued along its middle on the inside; nu = 0 and no shear, so a beam. */
const L = 0.8;
const b = 0.04;
const t = 0.003;
const w = 0.008;
const h = 0.012;
function ribbed(slip: Slips, edge: Panel["edge"]): Panel {
  return {
    ...bare(rectangle(L, b), isotropic(E, 0, rho, 1e4), t, edge),
    ribs: [
      {
        path: Float64Array.of(0, b / 2, L, b / 2),
        width: w,
        heights: [[0, h * (slip["ribHeight"] ?? 1)]],
        material: { density: rho, EL: E * (slip["ribStiffness"] ?? 1), G: 1e14, ET: 1 },
        side: "inside",
      },
    ],
  };
}

/** Composite section: neutral axis from the moduli-weighted areas, bending stiffness about it, mass per length. */
const areas = [b * t, w * h] as const;
const centre = (areas[1] * -(t + h)) / 2 / (areas[0] + areas[1]);
const EI =
  E *
  ((b * t ** 3) / 12 + areas[0] * centre ** 2 + (w * h ** 3) / 12 + areas[1] * ((t + h) / 2 + centre) ** 2);
const perLength = rho * (areas[0] + areas[1]);
const beam = (beta: number): number => (beta ** 2 / (2 * Math.PI * L ** 2)) * Math.sqrt(EI / perLength);

proof(
  "free strip with an eccentric rib: first two bending modes of the composite beam, Hz, and its weight",
  {
    source: "BEAM beam.roots.ff",
    quoted: [beam(4.730041), beam(7.853205), perLength * L],
    relTol: 8e-3,
    because:
      "the formula leaves out rotary inertia (0.3 % of the second mode) and shear lag in the strip (0.2 %)",
    mustNotice: { ribHeight: 1.03, ribStiffness: 1.05 },
  },
  (slip) => {
    const { modes, system } = modesOf(ribbed(slip, { kind: "free" }), 0.01, 8);
    // bending modes of the strip move its middle line outward and alike on both sides
    const flat = Array.from(modes.omega, (omega, m) => ({
      frequency: omega / (2 * Math.PI),
      share: outwardShare(modes.shapes, m, system.mesh.nodes.length / 3),
    }));
    return [
      ...flat
        .filter((f) => f.share > 0.9)
        .slice(0, 2)
        .map((f) => f.frequency),
      system.totalMass,
    ];
  },
);

/** Share of a mode's nodal motion that is outward (uz) and even across the strip. */
function outwardShare(shapes: Float64Array, m: number, n: number): number {
  let [even, twist, plane] = [0, 0, 0];
  for (let k = 0; k < n; k++) {
    const at = (m * n + k) * 6;
    const turn = shapes[at + 3] * (b / 4);
    even += shapes[at + 2] ** 2;
    twist += turn ** 2;
    plane += shapes[at + 1] ** 2;
  }
  return even / (even + 4 * twist + plane);
}

proof(
  "strip with an eccentric rib on two supports, load in the middle: P L^3 / 48 EI of the composite section",
  {
    source: "WH-CH9 beam.kb",
    quoted: L ** 3 / (48 * EI),
    relTol: 6e-3,
    because: "the load covers 20 mm of 800; the rest is the mesh",
    mustNotice: { ribHeight: 1.02, ribStiffness: 1.03 },
  },
  (slip) => {
    // the two long sides open; next to nothing holds the ends in the plane
    const sides = [Float64Array.of(0, 0, L, 0), Float64Array.of(0, b, L, b)];
    const panel = ribbed(slip, clampedExcept(sides, 0, 1e4));
    const system = panelSystem(panel, opened(panelMesh(panel, 0.01)));
    const middle = Float64Array.of(L / 2 - 0.01, 0, L / 2 + 0.01, 0, L / 2 + 0.01, b, L / 2 - 0.01, b);
    const { points } = opened(
      panelStatic(system, [{ polygon: middle, force: [0, 0, 1], couple: [0, 0, 0] }], [[L / 2, b / 2]]),
    );
    return points[2];
  },
);

proof(
  "plain cantilever strip under a tip load, with its shear: P L^3 / 3 EI + P L / (5/6 G A)",
  {
    source: "WH-CH9 beam.kb",
    quoted: 0.1 ** 3 / (3 * E * ((b * 0.01 ** 3) / 12)) + 0.1 / ((5 / 6) * 0.05e9 * b * 0.01),
    relTol: 6e-3,
    because:
      "a short strip of low shear modulus, whose shear is 11 % of the sag; the load spreads over the last 5 mm",
    mustNotice: { shear: 1.1, stiffness: 1.02 },
  },
  (slip) => {
    const length = 0.1;
    const edge = clampedExcept([Float64Array.of(0, 0, length, 0, length, b, 0, b)], 1e9, 1e14);
    const wood = {
      ...isotropic(E * (slip["stiffness"] ?? 1), 0, rho),
      GLT: 0.05e9 * (slip["shear"] ?? 1),
      GRT: 0.05e9,
    };
    const panel = bare(rectangle(length, b), wood, 0.01, edge);
    const system = panelSystem(panel, opened(panelMesh(panel, 0.005)));
    const end = Float64Array.of(length - 0.005, 0, length, 0, length, b, length - 0.005, b);
    const { points } = opened(
      panelStatic(
        system,
        [{ polygon: end, force: [0, 0, 1], couple: [0, 0, 0] }],
        [[length - 0.0025, b / 2]],
      ),
    );
    const arm = length - 0.0025;
    const bending = (l: number): number => l ** 3 / (3 * E * ((b * 0.01 ** 3) / 12));
    const shear = (l: number): number => l / ((5 / 6) * 0.05e9 * b * 0.01);
    return (points[2] * (bending(length) + shear(length))) / (bending(arm) + shear(arm));
  },
);
