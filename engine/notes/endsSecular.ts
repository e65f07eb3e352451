import { endsDeterminant } from "./endsDeterminant.ts";
import { type EndsScratch, endsSlot } from "./endsScratch.ts";
import type { EndsSystem } from "./endsSystem.ts";

/**
 * The body's compliance about one place: modes near it one by one, all others as a straight line in lambda about it.
 * Places of one expansion in a row of numbers: where, the first and one past the last near mode, the square of how far it holds,
 * then twice 10 complex numbers.
 */
export const expansionSize = 45;
const atFrom = 2;
const atTo = 3;
const atReach = 4;
const atPowers = 5;

/** Modes within this share of lambda are near. */
const near = 0.3;
/**
 * An expansion holds this far from its place (share of lambda), with and without the slope of the others' part, of which it
 * then leaves out 1e-4 and 1e-3: of the part of G that hardly changes along a root's short way.
 */
const hold = 3e-3;
const holdFlat = 3e-4;

export function holds(e: Float64Array, at: number, re: number, im: number): boolean {
  const a = re - e[at]!;
  const b = im - e[at + 1]!;
  return a * a + b * b <= e[at + atReach]!;
}

/** Whether a root at this distance from its start may do without the slope of what is not near. */
export function holdsFlat(re: number, shift: number): boolean {
  return shift < 0.7 * holdFlat * re;
}

/** Expansion about (re, im) into `e` from `at` on; `flat`: the others' part without its slope. */
export function expandBody(
  c: EndsSystem,
  re: number,
  im: number,
  e: Float64Array,
  at: number,
  flat: boolean,
  s: EndsScratch,
): void {
  const { body, weight } = c;
  let from = 0;
  while (from < body.count && body.re[from]! < (1 - near) * re) from++;
  let to = from;
  while (to < body.count && body.re[to]! <= (1 + near) * re) to++;
  e[at] = re;
  e[at + 1] = im;
  e[at + atFrom] = from;
  e[at + atTo] = to;
  e[at + atReach] = ((flat ? holdFlat : hold) * re) ** 2;
  const g = at + atPowers;
  // rigid motions have their pole at 0
  const z = 1 / (re * re + im * im);
  const zr = -re * z;
  const zi = im * z;
  const z2r = zr * zr - zi * zi;
  const z2i = 2 * zr * zi;
  for (let d = 0; d < 10; d++) {
    const w = c.rigid[d]!;
    const k = g + 2 * d;
    e[k] = c.residual[d]! + w * zr;
    e[k + 1] = w * zi;
    e[k + 20] = w * z2r;
    e[k + 21] = w * z2i;
  }
  // powers of 1/(lambda_i - lambda) of the others
  const others = body.count - (to - from);
  const { powers } = s;
  for (let other = 0; other < others; other++) {
    const i = other < from ? other : other + to - from;
    const a = body.re[i]! - re;
    const b = body.im[i]! - im;
    const size = 1 / (a * a + b * b);
    const u = a * size;
    const v = -b * size;
    const k = 4 * i;
    powers[k] = u;
    powers[k + 1] = v;
    powers[k + 2] = u * u - v * v;
    powers[k + 3] = 2 * u * v;
  }
  for (let k = 4 * from; k < 4 * to; k++) powers[k] = 0;
  const { count } = body;
  for (let d = 0; flat && d < 10; d++) {
    const w = 2 * d * count;
    const k = g + 2 * d;
    let ar = e[k]!;
    let ai = e[k + 1]!;
    for (let i = 0, t = 0; i < count; i++, t += 4) {
      const p = weight[w + i]!;
      const q = weight[w + count + i]!;
      const u = powers[t]!;
      const v = powers[t + 1]!;
      ar += p * u - q * v;
      ai += p * v + q * u;
    }
    e[k] = ar;
    e[k + 1] = ai;
    e[k + 20] = 0;
    e[k + 21] = 0;
  }
  for (let d = 0; !flat && d < 10; d++) {
    const w = 2 * d * count;
    const k = g + 2 * d;
    let ar = e[k]!;
    let ai = e[k + 1]!;
    let br = e[k + 20]!;
    let bi = e[k + 21]!;
    for (let i = 0, t = 0; i < count; i++, t += 4) {
      const p = weight[w + i]!;
      const q = weight[w + count + i]!;
      const u = powers[t]!;
      const v = powers[t + 1]!;
      const u2 = powers[t + 2]!;
      const v2 = powers[t + 3]!;
      ar += p * u - q * v;
      ai += p * v + q * u;
      br += p * u2 - q * v2;
      bi += p * v2 + q * u2;
    }
    e[k] = ar;
    e[k + 1] = ai;
    e[k + 20] = br;
    e[k + 21] = bi;
  }
}

/** f = det[I + Z G], its slope, and what they are made of, at (re, im) by an expansion that holds there; into `s.out`. */
export function endsSecular(
  c: EndsSystem,
  e: Float64Array,
  at: number,
  re: number,
  im: number,
  s: EndsScratch,
): void {
  stringEndsForce(c, re, im, s);
  const { out, steep } = s;
  const { body, weight } = c;
  const x = re - e[at]!;
  const y = im - e[at + 1]!;
  const g = at + atPowers;
  const from = e[at + atFrom]! | 0;
  const to = e[at + atTo]! | 0;
  const { powers } = s;
  for (let i = from, t = 0; i < to; i++, t += 4) {
    const a = body.re[i]! - re;
    const b = body.im[i]! - im;
    const size = 1 / (a * a + b * b);
    const u = a * size;
    const v = -b * size;
    powers[t] = u;
    powers[t + 1] = v;
    powers[t + 2] = u * u - v * v;
    powers[t + 3] = 2 * u * v;
  }
  const { count } = body;
  for (let d = 0; d < 20; d += 2) {
    const k = g + d;
    let hr = e[k + 20]!;
    let hi = e[k + 21]!;
    let gr = e[k]! + hr * x - hi * y;
    let gi = e[k + 1]! + hr * y + hi * x;
    const w = d * count;
    for (let i = from, t = 0; i < to; i++, t += 4) {
      const p = weight[w + i]!;
      const q = weight[w + count + i]!;
      const u = powers[t]!;
      const v = powers[t + 1]!;
      const u2 = powers[t + 2]!;
      const v2 = powers[t + 3]!;
      gr += p * u - q * v;
      gi += p * v + q * u;
      hr += p * u2 - q * v2;
      hi += p * v2 + q * u2;
    }
    out[endsSlot.compliance + d] = gr;
    out[endsSlot.compliance + d + 1] = gi;
    steep[d] = hr;
    steep[d + 1] = hi;
  }
  endsDeterminant(s);
}

/** Z and its slope; into `s.out` and `s.ends`. */
export function stringEndsForce(c: EndsSystem, re: number, im: number, s: EndsScratch): void {
  const { string, endWeight, tail, stiffness } = c;
  const l2r = re * re - im * im;
  const l2i = 2 * re * im;
  for (let odd = 0; odd < 2; odd++) {
    const t = 6 * odd;
    let sr = tail[t]! + re * tail[t + 2]! - im * tail[t + 3]! + l2r * tail[t + 4]! - l2i * tail[t + 5]!;
    let si = tail[t + 1]! + re * tail[t + 3]! + im * tail[t + 2]! + l2r * tail[t + 5]! + l2i * tail[t + 4]!;
    let dr = tail[t + 2]! + 2 * (re * tail[t + 4]! - im * tail[t + 5]!);
    let di = tail[t + 3]! + 2 * (re * tail[t + 5]! + im * tail[t + 4]!);
    for (let n = odd; n < string.count; n += 2) {
      const a = string.re[n]! - re;
      const b = string.im[n]! - im;
      const size = 1 / (a * a + b * b);
      const u = a * size;
      const v = -b * size;
      const w = endWeight[n]!;
      sr += w * u;
      si += w * v;
      dr += w * (u * u - v * v);
      di += 2 * w * u * v;
    }
    const m = odd === 0 ? c.mass / 2 : c.mass / 6;
    s.out[2 * odd] = odd * stiffness[0] - re * m - (l2r * sr - l2i * si);
    s.out[2 * odd + 1] = odd * stiffness[1] - im * m - (l2r * si + l2i * sr);
    s.ends[2 * odd] = -m - 2 * (re * sr - im * si) - (l2r * dr - l2i * di);
    s.ends[2 * odd + 1] = -2 * (re * si + im * sr) - (l2r * di + l2i * dr);
  }
}
