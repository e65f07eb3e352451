import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { type EdgeSupport, type PlyMaterial, panelMesh, panelStatic, panelSystem } from "#engine/shells";
import { proof } from "#proofs/harness";
import { bare, clampedExcept, isotropic, modesOf, rectangle, squareParameters } from "./testPlates.ts";

const values = {
  supported: [19.7392, 49.348, 49.348, 78.9568, 98.696, 98.696, 128.3049, 128.3049],
  clamped: [35.985, 73.394, 73.394, 108.217, 131.581, 132.205, 165.0, 165.0],
  free: [13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932, 61.0932, 63.6862, 69.2654],
  cantilever: [3.4711, 8.5067, 21.285, 27.199, 30.956, 54.187],
};
const size = 0.02;
const because =
  "a mesh of 0.02 sides leaves up to 0.4 % in the highest of these modes (the order of convergence is proved below)";

proof(
  "supported square plate, omega a^2 sqrt(rho h / D)",
  {
    source: "LEISSA-1969 plate.ssss.exact",
    quoted: values.supported,
    relTol: 5e-3,
    because,
    mustNotice: { stiffness: 1.02, thickness: 1.01, density: 0.98 },
  },
  (slip) => squareParameters({ kind: "hinged" }, 8, size, slip),
);

proof(
  "clamped square plate, omega a^2 sqrt(rho h / D)",
  {
    source: "RITZ-HERE plate.cccc.conv",
    quoted: values.clamped,
    relTol: 4e-3,
    because,
    mustNotice: { stiffness: 1.02, thickness: 1.01 },
  },
  (slip) => squareParameters({ kind: "clamped" }, 8, size, slip),
);

proof(
  "free square plate, omega a^2 sqrt(rho h / D), its six rigid motions left out",
  {
    source: "RITZ-HERE plate.ffff.conv",
    quoted: values.free,
    relTol: 4e-3,
    because,
    mustNotice: { stiffness: 1.02, density: 1.02 },
  },
  (slip) => squareParameters({ kind: "free" }, 9, size, slip),
);

const threeFree: EdgeSupport = clampedExcept([Float64Array.of(0, 0, 1, 0, 1, 1, 0, 1)], 1e6, 1e12);
proof(
  "cantilever square plate: one side held by stiff springs, three open",
  {
    source: "RITZ-HERE plate.cfff.conv",
    quoted: values.cantilever,
    relTol: 4e-3,
    because: "mesh as above; springs of 1e6 D per side give 1e-6 of the root's rotation",
    mustNotice: { stiffness: 1.02 },
  },
  (slip) => squareParameters(threeFree, 6, size, slip),
);

const spruce: PlyMaterial = {
  density: 450,
  EL: 10e9,
  ER: 0.78e9,
  GLR: 0.64e9,
  nuLR: 0.372,
  GLT: 1e13, // the closed form is thin-plate theory
  GRT: 1e13,
  loss: { L: 0.006, R: 0.022, LR: 0.016, transverse: 0 },
};
proof(
  "supported orthotropic plate in closed form, Hz: modes (1,1) (1,2) (2,1) (1,3) (2,2)",
  {
    source: "LEISSA-1969 plate.ortho.formula",
    quoted: [33.3964, 63.1332, 109.8323, 117.6288, 133.5857],
    relTol: 3e-3,
    because: "a 10 mm mesh; the formula is exact",
    mustNotice: { EL: 1.03, ER: 1.05, GLR: 1.1 },
  },
  (slip) => {
    const wood = {
      ...spruce,
      EL: spruce.EL * (slip["EL"] ?? 1),
      ER: spruce.ER * (slip["ER"] ?? 1),
      GLR: spruce.GLR * (slip["GLR"] ?? 1),
    };
    const { modes } = modesOf(bare(rectangle(0.5, 0.4), wood, 0.003, { kind: "hinged" }), 0.01, 5);
    return Array.from(modes.omega, (w) => w / (2 * Math.PI));
  },
);

/** Loss factor of mode (m, n): each stiffness's share of the strain energy in the closed form times its loss. */
function closedLoss(m: number, n: number): number {
  const { EL, ER, GLR, nuLR, loss } = spruce;
  const energy = (l: number, r: number, g: number): number => {
    const q = 1 - (nuLR * nuLR * ER * r) / (EL * l);
    const [x, y] = [(m / 0.5) ** 2, (n / 0.4) ** 2];
    return (EL * l * x * x + ER * r * y * y + 2 * nuLR * ER * r * x * y) / q + 4 * GLR * g * x * y;
  };
  const d = 1e-6;
  const slope = (f: (t: number) => number): number => (f(1 + d) - f(1 - d)) / (2 * d);
  return (
    (loss.L * slope((t) => energy(t, 1, 1)) +
      loss.R * slope((t) => energy(1, t, 1)) +
      loss.LR * slope((t) => energy(1, 1, t))) /
    energy(1, 1, 1)
  );
}
proof(
  "loss factors of the supported orthotropic plate by strain-energy share",
  {
    source: "CLOSED-FORM",
    quoted: [closedLoss(1, 1), closedLoss(1, 2), closedLoss(2, 1), closedLoss(1, 3), closedLoss(2, 2)],
    relTol: 5e-3,
    because: "shares are quadratic in the shapes, so the mesh shows as it does in the frequencies",
    mustNotice: { lossL: 1.1, lossR: 1.1, lossLR: 1.1 },
  },
  (slip) => {
    const { L, R, LR } = spruce.loss;
    const loss = {
      L: L * (slip["lossL"] ?? 1),
      R: R * (slip["lossR"] ?? 1),
      LR: LR * (slip["lossLR"] ?? 1),
      transverse: 0,
    };
    const { modes } = modesOf(
      bare(rectangle(0.5, 0.4), { ...spruce, loss }, 0.003, { kind: "hinged" }),
      0.01,
      5,
    );
    return Array.from(modes.lossFactor);
  },
);

proof(
  "clamped square under even load: centre sag 0.00126532 q a^4/D, weight rho h a^2",
  {
    source: "TIMO pl.st.cccc",
    quoted: [0.00126532, 1],
    relTol: 4e-3,
    because:
      "exact series; frequencies alone would not see stiffness and mass wrong by one factor. The weight is exact",
    mustNotice: { stiffness: 1.02, density: 1.02 },
  },
  (slip) => {
    const h = 0.002;
    const wood = isotropic(
      ((12 * 0.91) / h ** 3) * (slip["stiffness"] ?? 1),
      0.3,
      (slip["density"] ?? 1) / h,
    );
    const panel = bare(rectangle(1, 1), wood, h, { kind: "clamped" });
    const system = panelSystem(panel, opened(panelMesh(panel, size)));
    const load = { polygon: rectangle(1, 1), force: [0, 0, 1], couple: [0, 0, 0] } as const;
    const { points } = opened(panelStatic(system, [load], [[0.5, 0.5]]));
    return [points[2], system.totalMass];
  },
);

describe("order of convergence under mesh halving, lowest five modes of a thin square plate", () => {
  // Mean over the modes of the absolute error: single modes on unstructured meshes scatter. Along a free or supported
  // edge the element's twist is released over part of a triangle, as the real boundary layer of a thickness does: in the
  // thin limit that is a first-order error, 0.2 % at 0.025 sides.
  it.each([
    ["clamped", { kind: "clamped" }, values.clamped, 1.7, 0.003],
    ["supported", { kind: "hinged" }, values.supported, 0.9, 0.005],
    ["free", { kind: "free" }, values.free, 0.9, 0.003],
  ] as const)("%s: at least of the stated order", (_, edge, exact, least, finest) => {
    const error = [0.1, 0.05, 0.025].map((s) => {
      const found = squareParameters(edge, 5, s, {}, 0.001);
      return found.reduce((sum, v, i) => sum + Math.abs(v / exact[i] - 1), 0) / 5;
    });
    const order = Math.log2(error[0] / error[2]) / 2;
    expect(order, `errors ${error}`).toBeGreaterThan(least);
    expect(order, `errors ${error}`).toBeLessThan(3);
    expect(error[2], `errors ${error}`).toBeLessThan(finest);
  });
});
