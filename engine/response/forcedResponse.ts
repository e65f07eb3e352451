import { complexLu, complexLuSolve, done, failed, type Outcome } from "#engine/numerics";
import { airTerms } from "./airLaws.ts";
import type { BodyParts } from "./bodyParts.ts";
import { coupledBasis } from "./coupledBasis.ts";

/** Steady motion of the body under a force of 1 N (amplitude) at one crown, with all losses at that frequency. */
export interface ForcedResponse {
  /** 3C: velocity of every crown direction per newton, m/(s N), without the residual compliance. */
  readonly mobility: { readonly re: Float64Array; readonly im: Float64Array };
  /** m3/s per newton: net volume velocity of top, back and hole; and the parts. */
  readonly volumeVelocity: { readonly re: number; readonly im: number };
  readonly plateVelocity: { readonly re: number; readonly im: number };
  readonly holeVelocity: { readonly re: number; readonly im: number };
  /** W, mean over a cycle, each from its own formula. */
  readonly power: {
    /** Force times velocity where it acts. */
    readonly input: number;
    /** Complex stiffness of the wood times strain. */
    readonly wood: number;
    /** Friction at the hole, flow through leaks, heat exchanged with the walls. */
    readonly hole: number;
    readonly leak: number;
    readonly wallHeat: number;
    /** Intensity of the far field over a sphere. */
    readonly radiated: number;
  };
}

/**
 * The full complex equations of `CoupledSystem` solved at one omega (rad/s), no modes in between: the slow twin of
 * `crownMobility`, and the account of where the power goes. direction = 3 crown + [normal, across, along].
 */
export function forcedResponse(parts: BodyParts, direction: number, omega: number): Outcome<ForcedResponse> {
  const prepared = coupledBasis(parts);
  if (!prepared.ok) return prepared;
  const { system, crowns } = prepared.value;
  const { n, air } = system;
  const terms = airTerms(air, { re: omega, im: 0 });
  const re = new Float64Array(n * n);
  const im = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const flow = system.flow[i] * system.flow[j];
      re[i * n + j] =
        system.stiffness[i * n + j] - omega ** 2 * system.mass[i * n + j] + terms.whole.re * flow;
      im[i * n + j] = terms.whole.im * flow;
    }
    im[i * n + i] += system.loss[i];
  }
  re[n * n - 1] += terms.hole.re;
  im[n * n - 1] += terms.hole.im;
  const lu = complexLu(re, im, n);
  if (!lu.ok) return failed(lu.reason, `forced motion at ${omega} rad/s: ${lu.detail}`);
  const force = crowns.slice(direction * n, (direction + 1) * n);
  const x = complexLuSolve(lu.value, force, new Float64Array(n));

  const along = (row: Float64Array, from = 0, to = n) => {
    let [a, b] = [0, 0];
    for (let k = from; k < to; k++) {
      a += row[k] * x.re[k];
      b += row[k] * x.im[k];
    }
    return { re: a, im: b };
  };
  const velocity = (u: { re: number; im: number }) => ({ re: -omega * u.im, im: omega * u.re });
  const directions = crowns.length / n;
  const mobility = { re: new Float64Array(directions), im: new Float64Array(directions) };
  for (let d = 0; d < directions; d++) {
    const v = velocity(along(crowns.subarray(d * n, (d + 1) * n)));
    mobility.re[d] = v.re;
    mobility.im[d] = v.im;
  }
  const volume = along(system.flow);
  const hole = along(system.flow, n - 1);
  let wood = 0;
  for (let k = 0; k < n; k++) wood += 0.5 * omega * system.loss[k] * (x.re[k] ** 2 + x.im[k] ** 2);
  // Pressure inside: p = -kappa(w) x (volume that left).
  const kappa = { re: air.stiffness + terms.cavity.re, im: terms.cavity.im };
  const inside = (kappa.re ** 2 + kappa.im ** 2) * (volume.re ** 2 + volume.im ** 2);
  const { density, soundSpeed } = parts.cavity.air;
  const distance = 1;
  const outside = (density * omega ** 2 * Math.hypot(volume.re, volume.im)) / (4 * Math.PI * distance);
  return done({
    mobility,
    volumeVelocity: velocity(volume),
    plateVelocity: velocity(along(system.flow, 0, n - 1)),
    holeVelocity: velocity(hole),
    power: {
      input: 0.5 * mobility.re[direction],
      wood,
      hole: 0.5 * air.viscous * Math.sqrt(omega) * omega ** 2 * (hole.re ** 2 + hole.im ** 2),
      leak: 0.5 * air.leak * inside,
      wallHeat: (0.5 * Math.sqrt(omega) * air.wallHeat * inside) / air.stiffness,
      radiated: (4 * Math.PI * distance ** 2 * outside ** 2) / (2 * density * soundSpeed),
    },
  });
}
