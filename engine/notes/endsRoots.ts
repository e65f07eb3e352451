import { done, failed, type Outcome } from "#engine/numerics";
import { type EndsScratch, endsScratch, endsSlot } from "./endsScratch.ts";
import { endsSecular, expandBody, expansionSize, holds, holdsFlat, stringEndsForce } from "./endsSecular.ts";
import type { EndsSystem } from "./endsSystem.ts";

/** Roots of det[I + Z G] by pole of the uncoupled string or body that each grew from. */
export interface EndsRoots {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Partial number for a root of the string, 0 for one of the body. */
  readonly partial: Int32Array;
  /** Position in the body's pole list for a root of the body, -1 for one of the string. */
  readonly mode: Int32Array;
  /** What `endsSecular` tells at each root: count x endsSlot.size. */
  readonly at: Float64Array;
}

/** Relative error with which a root is taken: see `secularRoots`. */
const careful = 1e-10;
const mostSweeps = 60;
/** Poles on either side of a root's own that deflate it. */
const neighbours = 12;

/** All roots with |lambda| up to `top`, as `secularRoots` finds them for one end. Fails with "not-converged". */
export function endsRoots(c: EndsSystem, top: number): Outcome<EndsRoots> {
  const poles = listPoles(c, top);
  const { count } = poles;
  const s = endsScratch(c.body.count);
  const expansions = new Float64Array(expansionSize * count);
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  startRoots(c, poles, expansions, s, re, im);
  const settled = new Uint8Array(count);
  const at = new Float64Array(endsSlot.size * count);
  let left = count;
  for (let sweep = 0; left > 0 && sweep < mostSweeps; sweep++) {
    for (let k = 0; k < count; k++) {
      if (settled[k] === 1 || !improve(c, poles, k, expansions, s, re, im)) continue;
      settled[k] = 1;
      left--;
    }
  }
  for (let k = 0; k < count; k++) if (!Number.isFinite(re[k]! + im[k]!)) left++;
  if (left > 0)
    return failed(
      "not-converged",
      `${left} of ${count} coupled modes did not settle in ${mostSweeps} sweeps`,
    );
  for (let k = 0; k < count; k++) {
    evaluate(c, expansions, k, re[k]!, im[k]!, s);
    for (let i = 0; i < endsSlot.size; i++) at[endsSlot.size * k + i] = s.out[i]!;
  }
  return done({ count, re, im, partial: poles.partial, mode: poles.mode, at });
}

/** One step of root k; whether it has settled. */
function improve(
  c: EndsSystem,
  { count, re: pr, im: pi }: Poles,
  k: number,
  expansions: Float64Array,
  s: EndsScratch,
  re: Float64Array,
  im: Float64Array,
): boolean {
  const x = re[k]!;
  const y = im[k]!;
  evaluate(c, expansions, k, x, y, s);
  const { out } = s;
  const fr = out[endsSlot.value]!;
  const fi = out[endsSlot.value + 1]!;
  const size = fr * fr + fi * fi;
  if (size === 0) return true;
  const gr = out[endsSlot.slope]!;
  const gi = out[endsSlot.slope + 1]!;
  let nr = (gr * fr + gi * fi) / size;
  let ni = (gi * fr - gr * fi) / size;
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
  re[k] = x - nr / norm;
  im[k] = y + ni / norm;
  // |step|^2 over the distance of the nearest other root, relative to |x|
  return !(Math.sqrt(nearest) > careful * Math.abs(x) * norm);
}

function evaluate(c: EndsSystem, e: Float64Array, k: number, x: number, y: number, s: EndsScratch): void {
  const at = expansionSize * k;
  if (!holds(e, at, x, y)) expandBody(c, x, y, e, at, false, s);
  endsSecular(c, e, at, x, y, s);
}

interface Poles {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly partial: Int32Array;
  readonly mode: Int32Array;
}

/** Poles up to `top`, the string's once for each direction in which its motion of the ends yields, ascending by real parts. */
function listPoles({ body, string, rank }: EndsSystem, top: number): Poles {
  const most = body.count + 2 * string.count;
  const re = new Float64Array(most);
  const im = new Float64Array(most);
  const partial = new Int32Array(most);
  const mode = new Int32Array(most);
  let count = 0;
  const modes = countTo(body.re, body.count, top);
  const partials = countTo(string.re, string.count, top);
  let i = 0;
  for (let n = 0; n <= partials; n++) {
    for (; i < modes && (n === partials || body.re[i]! <= string.re[n]!); i++, count++) {
      re[count] = body.re[i]!;
      im[count] = body.im[i]!;
      mode[count] = i;
    }
    if (n === partials) break;
    for (let times = 0; times < rank[n % 2]!; times++, count++) {
      re[count] = string.re[n]!;
      im[count] = string.im[n]!;
      partial[count] = n + 1;
      mode[count] = -1;
    }
  }
  return {
    count,
    re: re.subarray(0, count),
    im: im.subarray(0, count),
    partial: partial.subarray(0, count),
    mode: mode.subarray(0, count),
  };
}

/** How many of the first `count` ascending values are no more than `top`. */
function countTo(values: Float64Array, count: number, top: number): number {
  let n = 0;
  while (n < count && values[n]! <= top) n++;
  return n;
}

/**
 * First-order starts: a body root is shifted by shape' Z shape, the two roots of a partial by -2 c_n lambda_n^2 times the
 * eigenvalues of its own motion's block of G. Near a coincidence both grow without bound; the split of an exact coincidence
 * bounds them.
 */
function startRoots(
  c: EndsSystem,
  poles: Poles,
  expansions: Float64Array,
  s: EndsScratch,
  re: Float64Array,
  im: Float64Array,
): void {
  const { shape } = c;
  let strongest = 0;
  for (let i = 0; i < c.body.count; i++)
    strongest = Math.max(strongest, Math.abs(endsSquare(shape, i, 0, 0) + endsSquare(shape, i, 1, 0)));
  for (let k = 0; k < poles.count; k++) {
    const x = poles.re[k]!;
    const y = poles.im[k]!;
    const own = expansionSize * k;
    const i = poles.mode[k]!;
    const second = k > 0 && i < 0 && poles.partial[k - 1] === poles.partial[k];
    if (second) expansions.copyWithin(own, own - expansionSize, own);
    else if (i < 0) expandBody(c, x, y, expansions, own, false, s);
    // a hair off the pole: the sums are singular on it; the golden angle keeps equal poles apart
    const offRe = 1e-6 * x * Math.cos(2.4 * k);
    const offIm = 1e-6 * x * Math.sin(2.4 * k);
    if (i >= 0) stringEndsForce(c, x, y, s);
    else if (!second) endsSecular(c, expansions, own, x + offRe, y + offIm, s);
    let shiftRe = 0;
    let shiftIm = 0;
    let bound: number;
    if (i >= 0) {
      let sumRe = 0;
      let sumIm = 0;
      for (let odd = 0; odd < 2; odd++) {
        const wr = endsSquare(shape, i, odd, 0);
        const wi = endsSquare(shape, i, odd, 1);
        sumRe += wr;
        sumIm += wi;
        const zr = s.out[2 * odd]!;
        const zi = s.out[2 * odd + 1]!;
        shiftRe += zr * wr - zi * wi;
        shiftIm += zr * wi + zi * wr;
      }
      bound = Math.sqrt(c.stiffness[0] * Math.hypot(sumRe, sumIm) * x);
    } else {
      const even = poles.partial[k]! % 2 === 1;
      const [gr, gi] = blockEigenvalue(s.out, endsSlot.compliance + (even ? 0 : 14), even ? 8 : 4, second);
      const rho = x * x * c.endWeight[poles.partial[k]! - 1]!;
      shiftRe = -rho * gr;
      shiftIm = -rho * gi;
      bound = Math.sqrt(rho * strongest) + c.stiffness[0] * x * Math.abs(c.residual[0]! + c.residual[4]!);
    }
    const size = Math.hypot(shiftRe, shiftIm);
    const factor = size > bound ? bound / size : 1;
    if (i >= 0) expandBody(c, x, y, expansions, own, holdsFlat(x, factor * size), s);
    re[k] = x + offRe + factor * shiftRe;
    im[k] = y + offIm + factor * shiftIm;
  }
}

/** Square of the ends' motion in the even or the odd way, without conjugates: its real part (0) or imaginary part (1). */
function endsSquare(shape: Float64Array, i: number, odd: number, part: 0 | 1): number {
  let sum = 0;
  for (let k = 8 * i + 4 * odd, d = 0; d < 4; d += 2) {
    const a = shape[k + d]!;
    const b = shape[k + d + 1]!;
    sum += part === 0 ? a * a - b * b : 2 * a * b;
  }
  return sum;
}

/** The larger or the smaller eigenvalue of a complex symmetric 2 x 2 block: xx and xy from `at` on, yy `step` further. */
function blockEigenvalue(
  g: Float64Array,
  at: number,
  step: number,
  smaller: boolean,
): readonly [number, number] {
  const halfRe = (g[at]! + g[at + step]!) / 2;
  const halfIm = (g[at + 1]! + g[at + step + 1]!) / 2;
  const dr = (g[at]! - g[at + step]!) / 2;
  const di = (g[at + 1]! - g[at + step + 1]!) / 2;
  const pr = g[at + 2]!;
  const pi = g[at + 3]!;
  const squareRe = dr * dr - di * di + pr * pr - pi * pi;
  const squareIm = 2 * (dr * di + pr * pi);
  const size = Math.hypot(squareRe, squareIm);
  let rootRe = Math.sqrt(Math.max(0, (size + squareRe) / 2));
  let rootIm = Math.sign(squareIm || 1) * Math.sqrt(Math.max(0, (size - squareRe) / 2));
  if (halfRe * rootRe + halfIm * rootIm < 0 !== smaller) [rootRe, rootIm] = [-rootRe, -rootIm];
  return [halfRe + rootRe, halfIm + rootIm];
}
