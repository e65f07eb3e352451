import { done, failed, type Outcome } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { type BridgeModes, bridgeModesFault } from "./bridgeModes.ts";
import { type BodyPoles, bodyPoles, type CrownSystem, crownSystem, type StringPoles } from "./crownSystem.ts";
import { atLonelyRoot } from "./lonelyRoot.ts";
import { insert, modeList } from "./modeList.ts";
import { pressurePerForce } from "./pressurePerForce.ts";
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
  /** The secular function and what it is made of at each mode: count x slot.size, 0 if the crown stands still. */
  readonly at: Float64Array;
  /** Pressure per force at each mode, normal and across (4 numbers); see pressurePerForce. */
  readonly heard: Float64Array;
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

/** The same for a body whose poles are at hand, and perhaps the string's. */
export function coupledToPoles(
  s: StretchedString,
  body: BodyPoles,
  maxFrequency: number,
  own?: StringPoles,
): Outcome<CoupledModes> {
  const system = crownSystem(s, body, maxFrequency, own);
  const top = (2 * Math.PI * maxFrequency) ** 2;
  // a little beyond the top, so that a mode that coupling brings down across it is not missed
  const solved = secularRoots(system, 1.06 * top);
  if (!solved.ok) return solved;
  const { re, im, partial, mode, lonely, shift, count: rootCount } = solved.value;
  const { string, apart } = system;
  const most = rootCount + (2 - system.rank) * string.count + apart.count;
  const list = modeList(most, 2 * Math.PI * maxFrequency);
  for (let k = 0; k < rootCount; k++)
    insert(list, re[k]!, im[k]!, partial[k]!, mode[k]! < 0 ? -1 : system.modeIndex[mode[k]!]!, k);
  // directions in which the body does not yield keep the string's own partials
  for (let n = 0; n < string.count; n++)
    for (let times = system.rank; times < 2; times++)
      insert(list, string.re[n]!, string.im[n]!, n + 1, -1, -1);
  for (let i = 0; i < apart.count; i++) insert(list, apart.re[i]!, apart.im[i]!, 0, apart.modeIndex[i]!, -1);
  const { count } = list;
  const motion = new Float64Array(4 * count);
  const at = new Float64Array(slot.size * count);
  const heard = new Float64Array(4 * count);
  const here = new Float64Array(slot.size);
  const sound = new Float64Array(4);
  for (let r = 0; r < count; r++) {
    const root = list.root[r]!;
    if (root < 0) continue;
    if (body.cells !== undefined && lonely[root] === 1) {
      atLonelyRoot(body, body.cells, mode[root]!, shift, 6 * root, here, sound);
    } else {
      secular(system, re[root]!, im[root]!, here);
      pressurePerForce(system, re[root]!, im[root]!, list.omega[r]!, sound);
    }
    // shorter than a call of `set` is worth
    for (let k = 0; k < slot.size; k++) at[slot.size * r + k] = here[k]!;
    for (let k = 0; k < 4; k++) heard[4 * r + k] = sound[k]!;
    crownMotion(here, motion, 4 * r);
  }
  return done({
    count,
    omega: list.omega.subarray(0, count),
    decay: list.decay.subarray(0, count),
    partial: list.partial.subarray(0, count),
    modeIndex: list.modeIndex.subarray(0, count),
    motion,
    at,
    heard,
    system,
  });
}

/**
 * Direction u in which the crown moves: (I + D G) u = 0, so u is orthogonal to both rows; the longer row is the safer.
 * Unit vector [normal re, im, across re, im] into `out` from `k` on.
 */
function crownMotion(s: Float64Array, out: Float64Array, k: number): void {
  const dr = s[slot.end]!;
  const di = s[slot.end + 1]!;
  const ar = 1 + dr * s[slot.xx]! - di * s[slot.xx + 1]!;
  const ai = dr * s[slot.xx + 1]! + di * s[slot.xx]!;
  const br = dr * s[slot.xy]! - di * s[slot.xy + 1]!;
  const bi = dr * s[slot.xy + 1]! + di * s[slot.xy]!;
  const cr = 1 + dr * s[slot.yy]! - di * s[slot.yy + 1]!;
  const ci = dr * s[slot.yy + 1]! + di * s[slot.yy]!;
  const cross = br * br + bi * bi;
  const first = ar * ar + ai * ai + cross;
  const second = cr * cr + ci * ci + cross;
  if (first === 0 && second === 0) return;
  const over = 1 / Math.sqrt(Math.max(first, second));
  const along = first >= second;
  out[k] = over * (along ? -br : cr);
  out[k + 1] = over * (along ? -bi : ci);
  out[k + 2] = over * (along ? ar : -br);
  out[k + 3] = over * (along ? ai : -bi);
}
