import { type StretchedString, stringPartials } from "#engine/strings";
import type { CoupledModes } from "./coupledString.ts";
import type { CrownSystem } from "./crownSystem.ts";
import { secular, slot } from "./secular.ts";

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
export function pluckedPressure(modes: CoupledModes, s: StretchedString, pluck: Pluck): Tones {
  const c = modes.system;
  const scratch = new Float64Array(slot.size);
  const re = new Float64Array(modes.count);
  const im = new Float64Array(modes.count);
  const blocked = blockedForce(c, s, pluck.fromCrown);
  for (let r = 0; r < modes.count; r++) {
    // a direction in which the body does not yield radiates nothing
    if (modes.motion.subarray(4 * r, 4 * r + 4).every((x) => x === 0)) continue;
    const w = modes.omega[r]!;
    const d = modes.decay[r]!;
    const x = w * w - d * d;
    const y = 2 * w * d;
    secular(c, x, y, scratch);
    const [dr, di] = [scratch[slot.end]!, scratch[slot.end + 1]!];
    const times = (gr: number, gi: number) => [dr * gr - di * gi, dr * gi + di * gr] as const;
    const [ar, ai] = times(scratch[slot.xx]!, scratch[slot.xx + 1]!);
    const [br, bi] = times(scratch[slot.xy]!, scratch[slot.xy + 1]!);
    const [cr, ci] = times(scratch[slot.yy]!, scratch[slot.yy + 1]!);
    // adj(I + D G) F
    const [fn, fa] = [pluck.normal, pluck.across];
    const nr = (1 + cr) * fn - br * fa;
    const ni = ci * fn - bi * fa;
    const tr = (1 + ar) * fa - br * fn;
    const ti = ai * fa - bi * fn;
    const [pnr, pni, par, pai] = pressurePerForce(c, x, y, w);
    const sumRe = pnr * nr - pni * ni + par * tr - pai * ti;
    const sumIm = pnr * ni + pni * nr + par * ti + pai * tr;
    const [wr, wi] = blocked(x, y);
    const numRe = sumRe * wr - sumIm * wi;
    const numIm = sumRe * wi + sumIm * wr;
    const [sr, si] = [scratch[slot.slope]!, scratch[slot.slope + 1]!];
    const size = sr * sr + si * si;
    re[r] = (numRe * sr + numIm * si) / size;
    im[r] = (numIm * sr - numRe * si) / size;
  }
  return { count: modes.count, omega: modes.omega, decay: modes.decay, re, im };
}

/**
 * sum_i P_i shape_i/(lambda_i - lambda), normal and across, complex: pressure amplitude over -lambda per force. P at the
 * frequency w (rad/s) of the tone, straight between the rows of its table and held beyond its end.
 */
function pressurePerForce(
  c: CrownSystem,
  x: number,
  y: number,
  w: number,
): readonly [number, number, number, number] {
  const { step, rows, modes, rigid } = c.sound;
  const place = Math.min(w / step, rows - 1);
  const row = Math.max(0, Math.min(Math.floor(place), rows - 2));
  const f = rows === 1 ? 0 : place - row;
  const next = rows === 1 ? 0 : 1;
  const z = 1 / (x * x + y * y);
  const [zr, zi] = [-x * z, y * z];
  let [nr, ni, ar, ai] = [0, 0, 0, 0];
  const count = c.body.count;
  const add = (table: Float64Array, at: number, width: number, u: number, v: number): void => {
    const to = at + 4 * width * next;
    const pr = table[at]! + f * (table[to]! - table[at]!);
    const pi = table[at + 1]! + f * (table[to + 1]! - table[at + 1]!);
    const qr = table[at + 2]! + f * (table[to + 2]! - table[at + 2]!);
    const qi = table[at + 3]! + f * (table[to + 3]! - table[at + 3]!);
    nr += pr * u - pi * v;
    ni += pr * v + pi * u;
    ar += qr * u - qi * v;
    ai += qr * v + qi * u;
  };
  add(rigid, 4 * row, 1, zr, zi);
  for (let i = 0; i < count; i++) {
    const a = c.body.re[i]! - x;
    const b = c.body.im[i]! - y;
    const size = 1 / (a * a + b * b);
    add(modes, 4 * (row * count + i), count, a * size, -b * size);
  }
  return [nr, ni, ar, ai];
}

/** W(lambda): force on a held bridge by a unit force on the string; see CrownSystem. Partials left out add their static part. */
function blockedForce(
  c: CrownSystem,
  s: StretchedString,
  fromCrown: number,
): (x: number, y: number) => readonly [number, number] {
  const count = c.string.count;
  const beyond = 200;
  const partials = stringPartials(s, count + beyond);
  const weight = Float64Array.from({ length: count + beyond }, (_, i) => {
    const k = (i + 1) * Math.PI;
    return (2 * Math.sin((k * fromCrown) / s.length)) / k;
  });
  let tail1 = 0;
  let tail2 = 0;
  for (let n = count; n < count + beyond; n++) {
    const square = partials.omega[n]! ** 2;
    tail1 += weight[n]! / square;
    tail2 += weight[n]! / (square * square);
  }
  return (x, y) => {
    let sr = tail1 + x * tail2;
    let si = y * tail2;
    for (let n = 0; n < count; n++) {
      const a = c.string.re[n]! - x;
      const b = c.string.im[n]! - y;
      const size = weight[n]! / (a * a + b * b);
      sr += a * size;
      si -= b * size;
    }
    return [1 - fromCrown / s.length + x * sr - y * si, x * si + y * sr];
  };
}
