import { lowestModes, opened } from "#engine/numerics";
import { panelGeometric, panelMesh, panelSystem } from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { evenForces, supported, wasm } from "./supportedPlates.ts";
import { bare, clampedExcept, isotropic, rectangle } from "./testPlates.ts";

const [side, h, E, nu, rho] = [0.4, 0.003, 10e9, 0.3, 450] as const;
const D = (E * h ** 3) / (12 * (1 - nu * nu));
const critical = (4 * Math.PI ** 2 * D) / side ** 2;

/** First frequency of the supported square plate under even forces Nx, times the critical one. */
function loadedFrequency(share: number, slip: Slips): number {
  const panel = bare(
    rectangle(side, side),
    isotropic(E * (slip["stiffness"] ?? 1), nu, rho * (slip["density"] ?? 1)),
    h,
    supported(1e7),
  );
  const system = panelSystem(panel, opened(panelMesh(panel, 0.01)));
  const n = share * critical * (slip["force"] ?? 1);
  const geometric = panelGeometric(system, evenForces(system, n, 0));
  const values = system.stiffness.values.map((v, k) => v + geometric.values[k]);
  const found = opened(
    lowestModes(
      { ...system.stiffness, values },
      system.mass,
      { count: 1, shift: 0, group: system.group },
      wasm,
    ),
  );
  return Math.sqrt(found.values[0]) / (2 * Math.PI);
}

const bare0 = (Math.PI / side ** 2) * Math.sqrt(D / (rho * h));
proof(
  "supported plate under in-plane force: f = f0 sqrt(1 + N / Ncr), pressed to a half, pulled by one",
  {
    source: "CLOSED-FORM f = f0 sqrt(1 + N/Ncr): the buckling and the vibration shape are one",
    quoted: [bare0 * Math.SQRT1_2, bare0, bare0 * Math.SQRT2],
    relTol: 0.012,
    because:
      "f0 is 0.4 % low (edge twist, flatPlates.proof.ts); pressed to a half the same error of K counts twice: 0.9 %",
    mustNotice: { force: 0.94, stiffness: 1.03, density: 1.03 },
  },
  (slip) => [-0.5, 0, 1].map((share) => loadedFrequency(share, slip)),
);

/** Frequencies of a thin strip held at its ends under a pull per metre of width: nearly a ribbon without stiffness. */
function ribbon(slip: Slips): number[] {
  const [L, w, t, N] = [0.5, 0.02, 0.0002, 2000 * (slip["force"] ?? 1)];
  const panel = bare(
    rectangle(L, w),
    isotropic(2e9, 0, 1000 * (slip["density"] ?? 1)),
    t,
    clampedExcept([Float64Array.of(0, 0, L, 0), Float64Array.of(0, w, L, w)], 0, 1e9),
  );
  const system = panelSystem(panel, opened(panelMesh(panel, 0.005)));
  const geometric = panelGeometric(system, evenForces(system, N, 0));
  const values = system.stiffness.values.map((v, k) => v + geometric.values[k]);
  const found = opened(
    lowestModes(
      { ...system.stiffness, values },
      system.mass,
      { count: 8, shift: 0, group: system.group },
      wasm,
    ),
  );
  // modes out of the ribbon's plane come in pairs, as a whole and twisting, at almost one frequency
  const out = Array.from(found.values, (_, m) => m).filter((m) => {
    const sums = [0, 0, 0];
    system.dof.forEach((row, k) => {
      if (row >= 0 && k % 6 < 3) sums[k % 6] += found.vectors[m * system.stiffness.n + row] ** 2;
    });
    return sums[2] > sums[0] + sums[1];
  });
  return [0, 2].map((k) => Math.sqrt(found.values[out[k]]) / (2 * Math.PI));
}

const stripD = (2e9 * 0.0002 ** 3) / 12;
proof(
  "ribbon under tension: the string's first two frequencies",
  {
    source: "CLOSED-FORM f = (n/2L) sqrt((N + n2 pi2 D/L2) / sigma): stretched strip with hinged ends",
    quoted: [1, 2].map(
      (n) => (n / (2 * 0.5)) * Math.sqrt((2000 + ((n * Math.PI) / 0.5) ** 2 * stripD) / (1000 * 0.0002)),
    ),
    relTol: 0.003,
    because: "100 cells along the ribbon; the strip's own stiffness is a ten-thousandth of the pull",
    mustNotice: { force: 1.02, density: 1.02 },
  },
  ribbon,
);
