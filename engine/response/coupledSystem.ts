import { type AirProperties, type FlowSources, outerAirMass } from "#engine/air";
import { invariant } from "#engine/numerics";
import type { PlateModes } from "#engine/shells";
import { backFrame, outwardMotion } from "./bodyFrames.ts";
import type { BodyParts } from "./bodyParts.ts";

/**
 * The coupled equations in the coordinates [top modes, back modes, rigid motions of the rim, hole]:
 *   ( K + i diag(loss) + (kappa(w) - kappa0) b b' + i w R(w) e e' + i w Rr(w) b b' - w^2 M ) x = f
 * K = diag(w_plate^2) + kappa0 b b' (+ string springs), kappa0 = rho c^2/V; b the volume each coordinate sweeps out of the
 * cavity, e the hole's own; the hole's coordinate is the volume (m3) that has left through it relative to the moving rim.
 */
export interface CoupledSystem {
  readonly n: number;
  readonly topCount: number;
  readonly backCount: number;
  /** 6, or 0 when the rim is held. */
  readonly rigidCount: number;
  /** n x n. */
  readonly mass: Float64Array;
  /** n x n, with kappa0. */
  readonly stiffness: Float64Array;
  /** n: loss factor x omega^2 of each plate mode. */
  readonly loss: Float64Array;
  /** n: b. */
  readonly flow: Float64Array;
  /** Index of the hole's coordinate; e is its unit vector. */
  readonly hole: number;
  readonly air: AirLaws;
}

/** What of the air depends on frequency. */
export interface AirLaws {
  /** rho c^2 / V, Pa/m3. */
  readonly stiffness: number;
  /** m3/(s Pa). */
  readonly leak: number;
  /** (gamma - 1) S/(2V) sqrt(2 alpha): times w^-1/2 it is the share of the cavity that follows the wall's temperature. */
  readonly wallHeat: number;
  /** Viscous resistance of the hole over sqrt(w). */
  readonly viscous: number;
  /** rho/(4 pi c): times w^2 it is the radiation resistance of a small source in free space. */
  readonly radiation: number;
}

/** Assembles the coupled equations. `strings`: a row of n for each string spring, with its stiffness. */
export function coupledSystem(
  parts: BodyParts,
  springs: readonly { readonly row: Float64Array; readonly stiffness: number }[],
): CoupledSystem {
  const { top, back, rim, cavity } = parts;
  const { air, hole } = cavity;
  const rigidCount = rim === "held" ? 0 : 6;
  const nt = top.count;
  const nb = back.count;
  const n = nt + nb + rigidCount + 1;
  const at = { top: 0, back: nt, rigid: nt + nb, hole: n - 1 };
  const mass = new Float64Array(n * n);
  const turn = backFrame(parts.backSeat);
  const outside = parts.outsideAir !== "none";
  const upright = Float64Array.from({ length: 36 }, (_, i) => (i % 7 === 0 ? 1 : 0));
  addPlate(
    mass,
    n,
    top,
    at.top,
    rigidCount ? { at: at.rigid, turn: upright } : null,
    at.hole,
    hole.flow,
    air,
    outside,
  );
  addPlate(mass, n, back, at.back, rigidCount ? { at: at.rigid, turn } : null, at.hole, null, air, outside);
  if (rim !== "held") {
    invariant(rim.mass.length === 36, () => `the rim's mass has ${rim.mass.length} entries, not 36`);
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) mass[(at.rigid + i) * n + at.rigid + j] += rim.mass[6 * i + j];
    }
  }
  mass[n * n - 1] += hole.inertance;

  const kappa = (air.density * air.soundSpeed ** 2) / cavity.volume;
  const flow = new Float64Array(n);
  flow.set(top.volume, at.top);
  flow.set(back.volume, at.back);
  flow[at.hole] = 1;
  const stiffness = new Float64Array(n * n);
  const loss = new Float64Array(n);
  for (const [plate, from] of [[top, at.top] as const, [back, at.back] as const]) {
    for (let i = 0; i < plate.count; i++) {
      stiffness[(from + i) * (n + 1)] = plate.omega[i] ** 2;
      loss[from + i] = plate.lossFactor[i] * plate.omega[i] ** 2;
    }
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let k = kappa * flow[i] * flow[j];
      for (const s of springs) k += s.stiffness * s.row[i] * s.row[j];
      stiffness[i * n + j] += k;
    }
  }
  return {
    n,
    topCount: nt,
    backCount: nb,
    rigidCount,
    mass,
    stiffness,
    loss,
    flow,
    hole: at.hole,
    air: {
      stiffness: kappa,
      leak: cavity.leak,
      wallHeat:
        (((air.heatRatio - 1) * cavity.wallArea) / (2 * cavity.volume)) *
        Math.sqrt(2 * air.thermalDiffusivity),
      viscous: hole.viscousPerRootOmega,
      radiation: air.density / (4 * Math.PI * air.soundSpeed),
    },
  };
}

/** Adds one plate: unit modal mass, its share of the rigid motions, and the outside air it carries. */
function addPlate(
  mass: Float64Array,
  n: number,
  plate: PlateModes,
  from: number,
  rigid: { readonly at: number; readonly turn: Float64Array } | null,
  holeAt: number,
  holeFlow: FlowSources | null,
  air: AirProperties,
  outside: boolean,
): void {
  const count = plate.count;
  const { nodes, triangles } = plate.mesh;
  const m = count + 6;
  const rows = holeFlow ? m + 1 : m;
  const own = outside
    ? outerAirMass({ nodes, triangles, count: m, motion: outwardMotion(plate) }, holeFlow, air)
    : new Float64Array(rows * rows);
  for (let i = 0; i < count; i++) own[i * rows + i] += 1;
  for (let r = 0; r < 6; r++) {
    for (let i = 0; i < count; i++) {
      own[i * rows + count + r] += plate.rigidCoupling[6 * i + r];
      own[(count + r) * rows + i] += plate.rigidCoupling[6 * i + r];
    }
    for (let s = 0; s < 6; s++) own[(count + r) * rows + count + s] += plate.rigidMass[6 * r + s];
  }
  // Where each of the plate's own coordinates stands in the coupled ones: u_own = P u.
  const place: (readonly [index: number, factor: number])[][] = [];
  for (let i = 0; i < count; i++) place.push([[from + i, 1]]);
  for (let r = 0; r < 6; r++) {
    place.push(rigid ? [0, 1, 2, 3, 4, 5].map((s) => [rigid.at + s, rigid.turn[6 * r + s]] as const) : []);
  }
  if (holeFlow) place.push([[holeAt, 1]]);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < rows; j++) {
      for (const [a, fa] of place[i]) {
        for (const [b, fb] of place[j]) mass[a * n + b] += fa * fb * own[i * rows + j];
      }
    }
  }
}
