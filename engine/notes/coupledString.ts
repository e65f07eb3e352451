import { done, failed, type Outcome } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { type BridgeModes, bridgeModesFault } from "./bridgeModes.ts";
import { type BodyPoles, bodyPoles, type CrownSystem, crownSystem } from "./crownSystem.ts";
import { secular, slot } from "./secular.ts";
import { secularRoots } from "./secularRoots.ts";

/** Every coupled mode of one string on the body up to a frequency, sorted by frequency. */
export interface CoupledModes {
  readonly count: number;
  /** Complex frequency, rad/s; imaginary part positive: it is the decay rate of the amplitude. */
  readonly omega: Float64Array;
  readonly decay: Float64Array;
  /** Partial that the mode grew from, 0 if from a body mode. In strong coupling the two share the motion. */
  readonly partial: Int32Array;
  /** Body mode that it grew from (rigid motions not counted), -1 if from the string. */
  readonly modeIndex: Int32Array;
  /** Motion of the crown, unit vector, [normal re, im, across re, im] by mode; [0,0,0,0] if the crown stands still. */
  readonly motion: Float64Array;
  /** Poles and weights that the modes solve, for what is computed from them (the pluck). */
  readonly system: CrownSystem;
}

/**
 * The string hinged at a rigid far end and resting on the body at its crown, both polarisations, all losses, solved as
 * one damped eigenproblem (see crownSystem and secularRoots). `maxFrequency` Hz. Fails with "bad-body" (an array of the
 * wrong length, a number that is not finite, a negative q) or "not-converged".
 */
export function coupledString(
  s: StretchedString,
  body: BridgeModes,
  maxFrequency: number,
): Outcome<CoupledModes> {
  const fault = bridgeModesFault(body);
  return fault === null ? coupledToPoles(s, bodyPoles(body), maxFrequency) : failed("bad-body", fault);
}

/** The same for a body whose poles are at hand. */
export function coupledToPoles(
  s: StretchedString,
  body: BodyPoles,
  maxFrequency: number,
): Outcome<CoupledModes> {
  const system = crownSystem(s, body, maxFrequency);
  const top = (2 * Math.PI * maxFrequency) ** 2;
  // a little beyond the top, so that a mode that coupling brings down across it is not missed
  const solved = secularRoots(system, 1.06 * top);
  if (!solved.ok) return solved;
  const found: { re: number; im: number; partial: number; mode: number; motion: readonly number[] }[] = [];
  const scratch = new Float64Array(slot.size);
  const roots = solved.value;
  for (let k = 0; k < roots.count; k++) {
    const lambdaRe = roots.re[k]!;
    const lambdaIm = roots.im[k]!;
    const w = squareRoot(lambdaRe, lambdaIm);
    if (w[0] > 2 * Math.PI * maxFrequency) continue;
    secular(system, lambdaRe, lambdaIm, scratch);
    const mode = roots.mode[k]!;
    found.push({
      re: w[0],
      im: w[1],
      partial: roots.partial[k]!,
      mode: mode < 0 ? -1 : system.modeIndex[mode]!,
      motion: crownMotion(scratch),
    });
  }
  // directions in which the body does not yield keep the string's own partials
  for (let n = 0; n < system.string.count; n++) {
    const w = squareRoot(system.string.re[n]!, system.string.im[n]!);
    if (w[0] > 2 * Math.PI * maxFrequency) continue;
    for (let times = system.rank; times < 2; times++)
      found.push({ re: w[0], im: w[1], partial: n + 1, mode: -1, motion: [0, 0, 0, 0] });
  }
  const { apart } = system;
  for (let i = 0; i < apart.count; i++) {
    const w = squareRoot(apart.re[i]!, apart.im[i]!);
    if (w[0] > 2 * Math.PI * maxFrequency) continue;
    found.push({ re: w[0], im: w[1], partial: 0, mode: apart.modeIndex[i]!, motion: [0, 0, 0, 0] });
  }
  found.sort((a, b) => a.re - b.re);
  const motion = new Float64Array(4 * found.length);
  for (const [i, f] of found.entries()) motion.set(f.motion, 4 * i);
  return done({
    count: found.length,
    omega: Float64Array.from(found, (f) => f.re),
    decay: Float64Array.from(found, (f) => f.im),
    partial: Int32Array.from(found, (f) => f.partial),
    modeIndex: Int32Array.from(found, (f) => f.mode),
    motion,
    system,
  });
}

/** Principal square root of a complex number in the right half plane. */
function squareRoot(re: number, im: number): readonly [number, number] {
  const a = Math.sqrt((Math.hypot(re, im) + re) / 2);
  return [a, im / (2 * a)];
}

/**
 * Direction u in which the crown moves: (I + D G) u = 0, so u is orthogonal to both rows; the longer row is the safer.
 */
function crownMotion(s: Float64Array): readonly number[] {
  const [dr, di] = [s[slot.end]!, s[slot.end + 1]!];
  const times = (re: number, im: number) => [dr * re - di * im, dr * im + di * re] as const;
  const [ar, ai] = times(s[slot.xx]!, s[slot.xx + 1]!);
  const [br, bi] = times(s[slot.xy]!, s[slot.xy + 1]!);
  const [cr, ci] = times(s[slot.yy]!, s[slot.yy + 1]!);
  const first = Math.hypot(1 + ar, ai, br, bi);
  const second = Math.hypot(1 + cr, ci, br, bi);
  const u = first >= second ? [-br, -bi, 1 + ar, ai] : [1 + cr, ci, -br, -bi];
  const size = Math.hypot(...u);
  return size === 0 ? [0, 0, 0, 0] : u.map((x) => x / size);
}
