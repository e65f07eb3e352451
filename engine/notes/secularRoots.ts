import { done, failed, type Outcome } from "#engine/numerics";
import type { CrownSystem } from "./crownSystem.ts";
import { lonelyRoot } from "./lonelyRoot.ts";
import { secular, slot } from "./secular.ts";

/** One root of det[I + D G] by pole of the uncoupled string or body that it grew from. */
export interface SecularRoots {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Partial number for a root of the string, 0 for one of the body. */
  readonly partial: Int32Array;
  /** Position in the body's pole list for a root of the body, -1 for one of the string. */
  readonly mode: Int32Array;
  /** By cells only, for a mode that hardly feels the string: 1, and its shift d, D and dd/dlambda (6 numbers). */
  readonly lonely: Uint8Array;
  readonly shift: Float64Array;
  /** Sweeps that the slowest root took. */
  readonly sweeps: number;
}

/**
 * Relative error with which a root is taken: after a step it is about the step's square over the distance of the nearest other
 * root. Of the body's whole sums, and by cells.
 */
const careful = 1e-13;
const quick = 1e-6;
const mostSweeps = 60;
/** Poles on either side of a root's own that deflate it. */
const neighbours = 12;

/**
 * All roots with |lambda| up to `top`, as many as there are poles there (each partial counts once for every direction
 * in which the body yields). Ehrlich-Aberth: Newton's method on P = f times the product of (pole - lambda), every root
 * deflated by all the others:
 *   step = 1/(f'/f + sum_j [1/(lambda - pole_j) - 1/(lambda - root_j)]),  own pole without its own root
 * Poles and roots of distant pairs cancel, so roots that are not sought, and those further than `neighbours` places away,
 * are left out of both sums. The deflation keeps two starts from ending in one root: when all have converged and differ,
 * none is missing. Fails with "not-converged".
 */
export function secularRoots(c: CrownSystem, top: number): Outcome<SecularRoots> {
  const poles = listPoles(c, top);
  const { count } = poles;
  const pr = poles.re;
  const pi = poles.im;
  const scratch = new Float64Array(slot.size);
  const tolerance = c.cells === undefined ? careful : quick;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const settled = new Uint8Array(count);
  const shifts = new Float64Array(c.cells === undefined ? 0 : 6 * count);
  startRoots(c, poles, re, im, settled, shifts, scratch);
  const lonely = settled.slice();
  let left = count;
  for (let k = 0; k < count; k++) left -= settled[k]!;
  let sweeps = 0;
  while (left > 0 && sweeps++ < mostSweeps) {
    for (let k = 0; k < count; k++) {
      if (settled[k] === 1) continue;
      const x = re[k]!;
      const y = im[k]!;
      secular(c, x, y, scratch);
      const fr = scratch[slot.value]!;
      const fi = scratch[slot.value + 1]!;
      const size = fr * fr + fi * fi;
      if (size === 0) {
        settled[k] = 1;
        left--;
        continue;
      }
      let nr = (scratch[slot.slope]! * fr + scratch[slot.slope + 1]! * fi) / size;
      let ni = (scratch[slot.slope + 1]! * fr - scratch[slot.slope]! * fi) / size;
      let nearest = 1 / (x * x);
      const last = Math.min(count - 1, k + neighbours);
      for (let j = Math.max(0, k - neighbours); j <= last; j++) {
        const a = x - pr[j]!;
        const b = y - pi[j]!;
        const toPole = 1 / (a * a + b * b);
        nr += a * toPole;
        ni -= b * toPole;
        if (j === k) continue;
        const d = x - re[j]!;
        const e = y - im[j]!;
        const toRoot = 1 / (d * d + e * e);
        nr -= d * toRoot;
        ni += e * toRoot;
        if (toRoot > nearest) nearest = toRoot;
      }
      const norm = nr * nr + ni * ni;
      const stepRe = nr / norm;
      const stepIm = -ni / norm;
      re[k] = x - stepRe;
      im[k] = y - stepIm;
      // |step|^2 over the distance, relative to |x|
      if (!(Math.sqrt(nearest) > tolerance * Math.abs(x) * norm)) {
        settled[k] = 1;
        left--;
      }
    }
  }
  for (let k = 0; k < count; k++) if (!Number.isFinite(re[k]! + im[k]!)) left++;
  if (left > 0)
    return failed(
      "not-converged",
      `${left} of ${count} coupled modes did not settle in ${mostSweeps} sweeps`,
    );
  return done({ count, re, im, partial: poles.partial, mode: poles.mode, lonely, shift: shifts, sweeps });
}

interface Poles {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly partial: Int32Array;
  readonly mode: Int32Array;
}

/** Poles of P up to `top`, the string's once for each direction in which the body yields, ascending by their real parts. */
function listPoles(c: CrownSystem, top: number): Poles {
  const { body, string, rank } = c;
  let bodies = 0;
  while (bodies < body.count && body.re[bodies]! <= top) bodies++;
  let partials = 0;
  while (partials < string.count && string.re[partials]! <= top) partials++;
  const count = bodies + rank * partials;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const partial = new Int32Array(count);
  const mode = new Int32Array(count);
  let i = 0;
  let n = rank === 0 ? partials : 0;
  for (let k = 0; k < count; k++) {
    const fromBody = n >= partials || (i < bodies && body.re[i]! <= string.re[n]!);
    re[k] = fromBody ? body.re[i]! : string.re[n]!;
    im[k] = fromBody ? body.im[i]! : string.im[n]!;
    partial[k] = fromBody ? 0 : n + 1;
    mode[k] = fromBody ? i++ : -1;
    if (!fromBody && (rank === 1 || partial[k - 1] === n + 1)) n++;
  }
  return { count, re, im, partial, mode };
}

/**
 * First-order starts: a body root is shifted by D |shape|^2, the two roots of a partial by -lambda_n^2 c_n times the
 * eigenvalues of G there. Near a coincidence both grow without bound; the split of an exact coincidence bounds them.
 */
function startRoots(
  c: CrownSystem,
  poles: Poles,
  re: Float64Array,
  im: Float64Array,
  settled: Uint8Array,
  shifts: Float64Array,
  scratch: Float64Array,
): void {
  const lonely = { re: 0, im: 0, bendRe: 0, bendIm: 0, end: new Float64Array(4) };
  let strongest = 0;
  for (let i = 0; i < c.body.count; i++)
    strongest = Math.max(strongest, Math.abs(c.weight[6 * i]! + c.weight[6 * i + 4]!));
  for (let k = 0; k < poles.count; k++) {
    const x = poles.re[k]!;
    const y = poles.im[k]!;
    // a hair off the pole: the sums are singular on it; the golden angle keeps equal poles apart
    const hair = 1e-6 * x;
    const offRe = hair * Math.cos(2.4 * k);
    const offIm = hair * Math.sin(2.4 * k);
    if (c.cells !== undefined && poles.mode[k]! >= 0 && lonelyRoot(c, c.cells, poles.mode[k]!, lonely)) {
      re[k] = x + lonely.re;
      im[k] = y + lonely.im;
      settled[k] = 1;
      shifts[6 * k] = lonely.re;
      shifts[6 * k + 1] = lonely.im;
      shifts[6 * k + 2] = lonely.end[0]!;
      shifts[6 * k + 3] = lonely.end[1]!;
      shifts[6 * k + 4] = lonely.bendRe;
      shifts[6 * k + 5] = lonely.bendIm;
      continue;
    }
    const second = k > 0 && poles.mode[k]! < 0 && poles.partial[k - 1] === poles.partial[k];
    if (!second) secular(c, x + offRe, y + offIm, scratch);
    let shiftRe: number;
    let shiftIm: number;
    let bound: number;
    if (poles.mode[k]! >= 0) {
      const i = poles.mode[k]!;
      const [wr, wi] = [c.weight[6 * i]! + c.weight[6 * i + 4]!, c.weight[6 * i + 1]! + c.weight[6 * i + 5]!];
      const [er, ei] = [scratch[slot.end]!, scratch[slot.end + 1]!];
      shiftRe = er * wr - ei * wi;
      shiftIm = er * wi + ei * wr;
      bound = Math.sqrt(2 * c.endStiffness[0] * Math.hypot(wr, wi) * x);
    } else {
      const [gr, gi] = complianceEigenvalue(scratch, second);
      const rho = x * x * c.endWeight[poles.partial[k]! - 1]!;
      shiftRe = -rho * gr;
      shiftIm = -rho * gi;
      bound =
        Math.sqrt(rho * strongest) + 2 * c.endStiffness[0] * x * Math.abs(c.residual[0] + c.residual[2]);
    }
    const size = Math.hypot(shiftRe, shiftIm);
    const factor = size > bound ? bound / size : 1;
    re[k] = x + offRe + factor * shiftRe;
    im[k] = y + offIm + factor * shiftIm;
  }
}

/** The larger or the smaller eigenvalue of G (2 x 2, complex symmetric) in the scratch array. */
function complianceEigenvalue(s: Float64Array, smaller: boolean): readonly [number, number] {
  const halfRe = (s[slot.xx]! + s[slot.yy]!) / 2;
  const halfIm = (s[slot.xx + 1]! + s[slot.yy + 1]!) / 2;
  const dr = (s[slot.xx]! - s[slot.yy]!) / 2;
  const di = (s[slot.xx + 1]! - s[slot.yy + 1]!) / 2;
  const pr = s[slot.xy]!;
  const pi = s[slot.xy + 1]!;
  const squareRe = dr * dr - di * di + pr * pr - pi * pi;
  const squareIm = 2 * (dr * di + pr * pi);
  const size = Math.hypot(squareRe, squareIm);
  let rootRe = Math.sqrt(Math.max(0, (size + squareRe) / 2));
  let rootIm = Math.sign(squareIm || 1) * Math.sqrt(Math.max(0, (size - squareRe) / 2));
  if (halfRe * rootRe + halfIm * rootIm < 0 !== smaller) {
    rootRe = -rootRe;
    rootIm = -rootIm;
  }
  return [halfRe + rootRe, halfIm + rootIm];
}
