import { done, failed, type Outcome } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { type BridgeModes, bridgeModesFault } from "./bridgeModes.ts";
import type { CoupledModes } from "./coupledString.ts";
import { soundTable } from "./crownSystem.ts";
import { endsRoots } from "./endsRoots.ts";
import { endsSlot } from "./endsScratch.ts";
import { type EndsBody, type EndsSystem, endsBody, endsSystem, type FarEnd } from "./endsSystem.ts";
import { insert, modeList } from "./modeList.ts";
import type { Pluck, Tones } from "./pluckedPressure.ts";

/** Every coupled mode of one string that the body carries at crown and far end, sorted by frequency. */
export interface EndsModes
  extends Pick<CoupledModes, "count" | "omega" | "decay" | "partial" | "modeIndex" | "motion"> {
  readonly system: EndsSystem;
  /** By mode: its place in `at`, what `endsSecular` tells at each root (roots x endsSlot.size); -1 if the ends stand still. */
  readonly root: Int32Array;
  readonly at: Float64Array;
}

/**
 * The string between the body at its crown and the body at nut or fret, both polarisations, all losses, solved as one damped
 * eigenproblem (see `EndsSystem`). `maxFrequency` Hz. `motion` is the direction of the force at the crown, which is that of the
 * string's swing. Fails with "bad-body" (also for a far end of the wrong length) or "not-converged".
 */
export function coupledAtBothEnds(
  s: StretchedString,
  body: BridgeModes,
  far: FarEnd,
  maxFrequency: number,
): Outcome<EndsModes> {
  const fault = bridgeModesFault(body) ?? farEndFault(body, far);
  if (fault !== null) return failed("bad-body", fault);
  return coupledToEnds(s, endsBody(body, soundTable(body)), far, maxFrequency);
}

/** What is wrong with a far end, in words, or null. */
export function farEndFault(body: BridgeModes, far: FarEnd): string | null {
  const length = 2 * body.omega.length;
  for (const [name, values] of [
    ["shape", far.shape],
    ["shapeIm", far.shapeIm ?? far.shape],
  ] as const) {
    if (values.length !== length)
      return `${name} of the far end has ${values.length} numbers; ${length} are needed`;
    const bad = values.findIndex((x) => !Number.isFinite(x));
    if (bad >= 0) return `${name}[${bad}] of the far end is ${values[bad]}`;
  }
  return null;
}

/** The same for a body at hand. */
export function coupledToEnds(
  s: StretchedString,
  body: EndsBody,
  far: FarEnd,
  maxFrequency: number,
): Outcome<EndsModes> {
  const system = endsSystem(s, body, far, maxFrequency);
  const top = (2 * Math.PI * maxFrequency) ** 2;
  // a little beyond the top, so that a mode that coupling brings down across it is not missed
  const solved = endsRoots(system, 1.06 * top);
  if (!solved.ok) return solved;
  const roots = solved.value;
  const { string, apart, rank } = system;
  const { count: rootCount, re, im, partial, mode } = roots;
  const most = rootCount + (2 - Math.min(rank[0], rank[1])) * string.count + apart.count;
  const list = modeList(most, 2 * Math.PI * maxFrequency);
  for (let k = 0; k < rootCount; k++)
    insert(list, re[k]!, im[k]!, partial[k]!, mode[k]! < 0 ? -1 : system.modeIndex[mode[k]!]!, k);
  for (let n = 0; n < string.count; n++)
    for (let times = rank[n % 2]!; times < 2; times++)
      insert(list, string.re[n]!, string.im[n]!, n + 1, -1, -1);
  for (let i = 0; i < apart.count; i++) insert(list, apart.re[i]!, apart.im[i]!, 0, apart.modeIndex[i]!, -1);
  const { count } = list;
  const motion = new Float64Array(4 * count);
  for (let r = 0; r < count; r++) {
    const root = list.root[r]!;
    if (root >= 0) crownForce(roots.at, endsSlot.size * root + endsSlot.adjoint, motion, 4 * r);
  }
  return done({
    count,
    omega: list.omega.subarray(0, count),
    decay: list.decay.subarray(0, count),
    partial: list.partial.subarray(0, count),
    modeIndex: list.modeIndex.subarray(0, count),
    motion,
    system,
    root: list.root.subarray(0, count),
    at: roots.at,
  });
}

/** (I + Z G) v = 0 for every column v of the adjoint; the longest is the safest. Unit vector of its part at the crown. */
function crownForce(a: Float64Array, at: number, out: Float64Array, to: number): void {
  let best = 0;
  let longest = -1;
  for (let j = 0; j < 4; j++) {
    let square = 0;
    for (let i = 0; i < 4; i++) square += a[at + 8 * i + 2 * j]! ** 2 + a[at + 8 * i + 2 * j + 1]! ** 2;
    if (square > longest) {
      longest = square;
      best = j;
    }
  }
  let size = 0;
  for (let d = 0; d < 4; d++) {
    const k = at + 8 * (d >> 1) + 2 * best + (d & 1);
    out[to + d] = a[k]! + a[k + 16]!;
    size += out[to + d]! ** 2;
  }
  const over = size > 0 ? 1 / Math.sqrt(size) : 0;
  for (let d = 0; d < 4; d++) out[to + d] = out[to + d]! * over;
}

/**
 * Pressure at 1 m after the pluck, by coupled mode (Pa), as `pluckedPressure` tells it for one end: with W the forces of a unit
 * pluck on held ends (even and odd, each direction) the forces on the body are (I + Z G)^-1 W F, both ends are heard.
 */
export function pluckedAtBothEnds(modes: EndsModes, s: StretchedString, pluck: Pluck): Tones {
  const { count, system, at, root } = modes;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const blocked = blockedString(system, pluck.fromCrown / s.length);
  const force = new Float64Array(4);
  const heard = new Float64Array(8);
  for (let r = 0; r < count; r++) {
    // what does not move the body radiates nothing
    if (root[r]! < 0) continue;
    const w = modes.omega[r]!;
    const d = modes.decay[r]!;
    const x = w * w - d * d;
    const y = 2 * w * d;
    blockedForces(blocked, system, x, y, force);
    heardAtEnds(system, x, y, w, heard);
    const k = endsSlot.size * root[r]!;
    let nr = 0;
    let ni = 0;
    for (let i = 0; i < 4; i++) {
      // adj (W F), the columns of one motion taken together
      let vr = 0;
      let vi = 0;
      for (let j = 0; j < 4; j += 2) {
        const a = k + endsSlot.adjoint + 2 * (4 * i + j);
        const pr = at[a]! * pluck.normal + at[a + 2]! * pluck.across;
        const pi = at[a + 1]! * pluck.normal + at[a + 3]! * pluck.across;
        vr += pr * force[j]! - pi * force[j + 1]!;
        vi += pr * force[j + 1]! + pi * force[j]!;
      }
      nr += heard[2 * i]! * vr - heard[2 * i + 1]! * vi;
      ni += heard[2 * i]! * vi + heard[2 * i + 1]! * vr;
    }
    const sr = at[k + endsSlot.slope]!;
    const si = at[k + endsSlot.slope + 1]!;
    const size = 1 / (sr * sr + si * si);
    re[r] = (nr * sr + ni * si) * size;
    im[r] = (ni * sr - nr * si) * size;
  }
  return { count, omega: modes.omega, decay: modes.decay, re, im };
}

/** d_n by partial listed; of those left out, sum of d_n/lambda_n and d_n/lambda_n^2: odd, then even ones. */
interface BlockedEnds {
  readonly place: number;
  readonly weight: Float64Array;
  readonly tail: readonly [number, number, number, number];
}

/** `place`: of the pluck, from the crown, as a share of the length. */
function blockedString(c: EndsSystem, place: number): BlockedEnds {
  const { count } = c.string;
  const weight = new Float64Array(count);
  const tail: [number, number, number, number] = [0, 0, 0, 0];
  for (let n = 0; n < count + c.beyond.length; n++) {
    const k = (n + 1) * Math.PI;
    const own = (2 * Math.sin(k * place)) / k;
    if (n < count) {
      weight[n] = own;
      continue;
    }
    const over = 1 / c.beyond[n - count]!;
    const at = 2 * (n % 2);
    tail[at] = tail[at]! + own * over;
    tail[at + 1] = tail[at + 1]! + own * over * over;
  }
  return { place, weight, tail };
}

/** Even and odd force on held ends by a unit force on the string: [1 or 1 - 2 x/L, + 2 lambda sum d_n/(lambda_n - lambda)]/sqrt 2. */
function blockedForces(b: BlockedEnds, c: EndsSystem, x: number, y: number, out: Float64Array): void {
  const { count, re, im } = c.string;
  for (let odd = 0; odd < 2; odd++) {
    let sr = b.tail[2 * odd]! + x * b.tail[2 * odd + 1]!;
    let si = y * b.tail[2 * odd + 1]!;
    for (let n = odd; n < count; n += 2) {
      const p = re[n]! - x;
      const q = im[n]! - y;
      const size = b.weight[n]! / (p * p + q * q);
      sr += p * size;
      si -= q * size;
    }
    out[2 * odd] = Math.SQRT1_2 * (1 - odd * 2 * b.place + 2 * (x * sr - y * si));
    out[2 * odd + 1] = Math.SQRT2 * (x * si + y * sr);
  }
}

/** sum_i P_i shape_i/(lambda_i - lambda), 4 complex numbers; P at w (rad/s), straight between the rows of its table. */
function heardAtEnds(c: EndsSystem, x: number, y: number, w: number, out: Float64Array): void {
  const { table, body, shape, motion } = c;
  const { rows, re, im } = table;
  const count = re.length / rows;
  const place = Math.min(w / (2 * Math.PI * table.step), rows - 1);
  const row = Math.max(0, Math.min(Math.floor(place), rows - 2));
  const f = rows === 1 ? 0 : place - row;
  const at = row * count;
  const next = rows === 1 ? at : at + count;
  let n0 = 0;
  let n1 = 0;
  let a0 = 0;
  let a1 = 0;
  let n2 = 0;
  let n3 = 0;
  let a2 = 0;
  let a3 = 0;
  for (let k = 0; k < body.count; k++) {
    const i = motion[k]!;
    const pr = (1 - f) * re[at + i]! + f * re[next + i]!;
    const pi = (1 - f) * im[at + i]! + f * im[next + i]!;
    const a = body.re[k]! - x;
    const b = body.im[k]! - y;
    const size = 1 / (a * a + b * b);
    const hr = (pr * a + pi * b) * size;
    const hi = (pi * a - pr * b) * size;
    const s = 8 * k;
    n0 += shape[s]! * hr - shape[s + 1]! * hi;
    n1 += shape[s]! * hi + shape[s + 1]! * hr;
    a0 += shape[s + 2]! * hr - shape[s + 3]! * hi;
    a1 += shape[s + 2]! * hi + shape[s + 3]! * hr;
    n2 += shape[s + 4]! * hr - shape[s + 5]! * hi;
    n3 += shape[s + 4]! * hi + shape[s + 5]! * hr;
    a2 += shape[s + 6]! * hr - shape[s + 7]! * hi;
    a3 += shape[s + 6]! * hi + shape[s + 7]! * hr;
  }
  out[0] = n0;
  out[1] = n1;
  out[2] = a0;
  out[3] = a1;
  out[4] = n2;
  out[5] = n3;
  out[6] = a2;
  out[7] = a3;
  const z = 1 / (x * x + y * y);
  for (let k = 0; k < c.rigidMotion.length; k++) {
    const i = c.rigidMotion[k]!;
    const pr = (1 - f) * re[at + i]! + f * re[next + i]!;
    const pi = (1 - f) * im[at + i]! + f * im[next + i]!;
    const hr = (-pr * x - pi * y) * z;
    const hi = (pr * y - pi * x) * z;
    for (let d = 0; d < 4; d++) {
      const own = c.rigidShape[4 * k + d]!;
      out[2 * d] = out[2 * d]! + own * hr;
      out[2 * d + 1] = out[2 * d + 1]! + own * hi;
    }
  }
}
