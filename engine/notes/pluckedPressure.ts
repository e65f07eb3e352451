import type { StretchedString } from "#engine/strings";
import type { CoupledModes } from "./coupledString.ts";
import type { CrownSystem } from "./crownSystem.ts";
import { slot } from "./secular.ts";

/** A sum of damped tones: p(t) = Re sum_r (re + i im) exp((i omega - decay) t) from t = 0. */
export interface Tones {
  readonly count: number;
  readonly omega: Float64Array;
  readonly decay: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A steady force in newtons, let go at t = 0. */
export interface Pluck {
  /** Distance from the crown, m. */
  readonly fromCrown: number;
  readonly normal: number;
  readonly across: number;
}

/**
 * Pressure at 1 m after the pluck, by coupled mode (Pa), in the order of `modes`. Letting go of a steady force F is a step
 * of -F on a body at rest, so with H_i the response of body coordinate i to the force at the pluck
 *   p(w) = -i w S(lambda) ,  S = sum_i P_i H_i = [sum_i P_i shape_i/(lambda_i - lambda)]' (I + D G)^-1 W F
 * and by the residue of S at each root lambda_r of f = det[I + D G]:
 *   p(t) = Re sum_r (N_r/f'_r) exp(i w_r t),   N = [..]' adj(I + D G) W F
 */
export function pluckedPressure(
  modes: CoupledModes,
  s: StretchedString,
  pluck: Pluck,
  blocked: BlockedString = blockedString(modes.system, pluck.fromCrown / s.length),
): Tones {
  const { count, system, motion, at, heard } = modes;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const force = new Float64Array(2);
  const { normal: fn, across: fa } = pluck;
  for (let r = 0; r < count; r++) {
    const m = 4 * r;
    // a direction in which the body does not yield radiates nothing
    if (motion[m] === 0 && motion[m + 1] === 0 && motion[m + 2] === 0 && motion[m + 3] === 0) continue;
    const w = modes.omega[r]!;
    const d = modes.decay[r]!;
    const x = w * w - d * d;
    const y = 2 * w * d;
    const k = slot.size * r;
    const dr = at[k + slot.end]!;
    const di = at[k + slot.end + 1]!;
    const gxr = at[k + slot.xx]!;
    const gxi = at[k + slot.xx + 1]!;
    const gpr = at[k + slot.xy]!;
    const gpi = at[k + slot.xy + 1]!;
    const gyr = at[k + slot.yy]!;
    const gyi = at[k + slot.yy + 1]!;
    // adj(I + D G) F
    const br = dr * gpr - di * gpi;
    const bi = dr * gpi + di * gpr;
    const nr = (1 + dr * gyr - di * gyi) * fn - br * fa;
    const ni = (dr * gyi + di * gyr) * fn - bi * fa;
    const tr = (1 + dr * gxr - di * gxi) * fa - br * fn;
    const ti = (dr * gxi + di * gxr) * fa - bi * fn;
    const sumRe = heard[m]! * nr - heard[m + 1]! * ni + heard[m + 2]! * tr - heard[m + 3]! * ti;
    const sumIm = heard[m]! * ni + heard[m + 1]! * nr + heard[m + 2]! * ti + heard[m + 3]! * tr;
    blockedForce(blocked, system, x, y, force);
    const numRe = sumRe * force[0]! - sumIm * force[1]!;
    const numIm = sumRe * force[1]! + sumIm * force[0]!;
    const sr = at[k + slot.slope]!;
    const si = at[k + slot.slope + 1]!;
    const size = 1 / (sr * sr + si * si);
    re[r] = (numRe * sr + numIm * si) * size;
    im[r] = (numIm * sr - numRe * si) * size;
  }
  return { count, omega: modes.omega, decay: modes.decay, re, im };
}

/** Weights d_n of the partials listed, what those left out add, and the static share of the crown; see CrownSystem. */
export interface BlockedString {
  readonly atRest: number;
  readonly weight: Float64Array;
  /** sum of d_n/lambda_n and d_n/lambda_n^2 over the partials left out. */
  readonly tail: readonly [number, number];
}

/** `place`: of the pluck, from the crown, as a share of the length. */
export function blockedString(c: Pick<CrownSystem, "string" | "beyond">, place: number): BlockedString {
  const { count } = c.string;
  const { beyond } = c;
  const weight = new Float64Array(count);
  let tail1 = 0;
  let tail2 = 0;
  for (let n = 0; n < count + beyond.length; n++) {
    const k = (n + 1) * Math.PI;
    const own = (2 * Math.sin(k * place)) / k;
    if (n < count) weight[n] = own;
    else {
      const over = 1 / beyond[n - count]!;
      tail1 += own * over;
      tail2 += own * over * over;
    }
  }
  return { atRest: 1 - place, weight, tail: [tail1, tail2] };
}

/** W(lambda): force on a held bridge by a unit force on the string, re and im into `out`. */
function blockedForce(b: BlockedString, c: CrownSystem, x: number, y: number, out: Float64Array): void {
  const { count, re, im } = c.string;
  const { weight, tail } = b;
  let sr = tail[0] + x * tail[1];
  let si = y * tail[1];
  for (let n = 0; n < count; n++) {
    const p = re[n]! - x;
    const q = im[n]! - y;
    const size = weight[n]! / (p * p + q * q);
    sr += p * size;
    si -= q * size;
  }
  out[0] = b.atRest + x * sr - y * si;
  out[1] = x * si + y * sr;
}
