import { partialsBelow, type StretchedString, stringPartials } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";
import type { PoleList, SoundTable } from "./crownSystem.ts";

/** How a string's far end, at nut or fret, moves with the body: by every motion of `BridgeModes`, in the same order. */
export interface FarEnd {
  /** count x 2, mass-normalised (kg^-1/2): [normal, across]. */
  readonly shape: Float64Array;
  readonly shapeIm?: Float64Array;
}

/** The body as a string meets it at both ends, but for the far end's shapes: the same for all notes of the string. */
export interface EndsBody {
  readonly modes: BridgeModes;
  readonly table: SoundTable;
  /** Motions ascending by frequency, rigid ones apart. */
  readonly elastic: readonly number[];
  readonly rigid: readonly number[];
  /** By motion: index in the list of bodyModes (rigid motions not counted). */
  readonly listing: Int32Array;
}

/**
 * A string and a body coupled at both ends of the string. With u_c, u_f the motions of crown and far end and y = u_c (1 - x/L)
 * + u_f x/L + sum b_n sin(n pi x/L), the string is exact in {u_c, u_f, b_n}; without b_n its ends' stiffness is, in each
 * direction, [[D, C], [C, D]]. In the even and the odd motion of the ends, u_+- = (u_c +- u_f)/sqrt 2, it is diagonal:
 *   D + C = -lambda m/2 - lambda^2 sum_(n odd) 2 c_n/(lambda_n - lambda)
 *   D - C = 2 K - lambda m/6 - lambda^2 sum_(n even) 2 c_n/(lambda_n - lambda),
 * c_n, K as in `CrownSystem`, m the string's mass; without stiffness and loss D = T k cot kL, C = -T k/sin kL. Coordinates here:
 * [normal +, across +, normal -, across -], Z = diag(D + C, D + C, D - C, D - C), G the body's compliance (4 x 4, symmetric).
 * The coupled modes are the roots of det[I + Z G]: each partial moves the ends one way only, so it counts twice.
 */
export interface EndsSystem {
  readonly string: PoleList;
  /** 2 c_n, kg. */
  readonly endWeight: Float64Array;
  /** 2 K, N/m. */
  readonly stiffness: readonly [re: number, im: number];
  /** kg. */
  readonly mass: number;
  /** sum of 2 c_n/lambda_n^k over the partials left out, k = 1, 2, 3; re, im each; of the odd ones, then the even ones. */
  readonly tail: Float64Array;
  /** Real parts of lambda_n of the partials left out. */
  readonly beyond: Float64Array;
  /** Ascending by their real parts. */
  readonly body: PoleList;
  /** By mode, 4 complex numbers: its shape. */
  readonly shape: Float64Array;
  /** The upper half of shape shape', row by row, real parts then imaginary parts by entry: 20 x modes; 1/kg. */
  readonly weight: Float64Array;
  /** 10 numbers each: of the rigid motions (1/kg), and what the modes lack (m/N, crown only). */
  readonly rigid: Float64Array;
  readonly residual: Float64Array;
  /** By mode: motion of the record, and its index in the list of bodyModes. */
  readonly motion: Int32Array;
  readonly modeIndex: Int32Array;
  /** Rigid motions: motion of the record; 4 numbers by motion. */
  readonly rigidMotion: readonly number[];
  readonly rigidShape: Float64Array;
  readonly table: SoundTable;
  /** Modes that move neither end across the string. */
  readonly apart: PoleList & { readonly modeIndex: Int32Array };
  /** Directions in which the ends yield in the even motion, and in the odd one. */
  readonly rank: readonly [number, number];
}

/** A mode that moves both ends less than a body of this mass (kg) would is left uncoupled. */
const heaviest = 1e10;
const thinnest = 1e-12;
const partialsBeyond = 200;

export function endsBody(modes: BridgeModes, table: SoundTable): EndsBody {
  const { omega } = modes;
  const listing = new Int32Array(omega.length);
  let listed = 0;
  for (let i = 0; i < omega.length; i++) if (omega[i] !== 0) listing[i] = listed++;
  const all = Array.from(omega.keys());
  return {
    modes,
    table,
    elastic: all.filter((i) => omega[i] !== 0).sort((i, j) => omega[i]! - omega[j]! || i - j),
    rigid: all.filter((i) => omega[i] === 0),
    listing,
  };
}

/** Poles and weights for all roots below `maxFrequency` (Hz). */
export function endsSystem(s: StretchedString, b: EndsBody, far: FarEnd, maxFrequency: number): EndsSystem {
  const { modes, elastic } = b;
  const all = new Float64Array(8 * elastic.length);
  const kept = new Int32Array(elastic.length);
  const left: number[] = [];
  let count = 0;
  for (let k = 0; k < elastic.length; k++) {
    const i = elastic[k]!;
    if (endsShape(modes, far, i, all, 8 * count) * heaviest < 1) left.push(i);
    else kept[count++] = i;
  }
  const shape = all.subarray(0, 8 * count);
  const motion = kept.subarray(0, count);
  const { rigidShape, rigid } = rigidEnds(b, far);
  const residual = crownResidual(modes.residual);
  const body = poles(modes, motion);
  const own = stringEnds(s, maxFrequency);
  const still = poles(modes, left);
  // one literal, no spreads: the engine's fast code holds for one layout of the record
  return {
    string: own.string,
    endWeight: own.endWeight,
    stiffness: own.stiffness,
    mass: own.mass,
    tail: own.tail,
    beyond: own.beyond,
    body,
    shape,
    weight: upperHalves(shape, count),
    rigid,
    residual,
    motion,
    modeIndex: motion.map((i) => b.listing[i]!),
    rigidMotion: b.rigid,
    rigidShape,
    table: b.table,
    apart: {
      count: still.count,
      re: still.re,
      im: still.im,
      modeIndex: Int32Array.from(left, (i) => b.listing[i]!),
    },
    rank: [0, 2].map((d) => rankOf(d, shape, rigidShape, residual, body.re)) as [number, number],
  };
}

function poles(modes: BridgeModes, list: ArrayLike<number>): PoleList {
  const count = list.length;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const w = modes.omega[list[k]!]!;
    re[k] = w * w;
    im[k] = re[k]! / modes.q[list[k]!]!;
  }
  return { count, re, im };
}

/** The upper half of shape shape', as `EndsSystem` keeps it. */
function upperHalves(shape: Float64Array, count: number): Float64Array {
  const out = new Float64Array(20 * count);
  for (let d = 0, at = 0; d < 8; d += 2) {
    for (let e = d; e < 8; e += 2, at += 2 * count) {
      for (let k = 0, s = 0; k < count; k++, s += 8) {
        const ar = shape[s + d]!;
        const ai = shape[s + d + 1]!;
        const br = shape[s + e]!;
        const bi = shape[s + e + 1]!;
        out[at + k] = ar * br - ai * bi;
        out[at + count + k] = ar * bi + ai * br;
      }
    }
  }
  return out;
}

function rigidEnds(
  { modes, rigid: motions }: EndsBody,
  far: FarEnd,
): { readonly rigidShape: Float64Array; readonly rigid: Float64Array } {
  const rigid = new Float64Array(10);
  const rigidShape = new Float64Array(4 * motions.length);
  const own = new Float64Array(8);
  for (let k = 0; k < motions.length; k++) {
    endsShape(modes, far, motions[k]!, own, 0);
    for (let d = 0, at = 0; d < 4; d++) {
      rigidShape[4 * k + d] = own[2 * d]!;
      for (let e = d; e < 4; e++, at++) rigid[at] = rigid[at]! + own[2 * d]! * own[2 * e]!;
    }
  }
  return { rigidShape, rigid };
}

/** u_+- of both directions by one motion: 4 complex numbers into `out` from `at` on; the sum of their squares. */
function endsShape(modes: BridgeModes, far: FarEnd, i: number, out: Float64Array, at: number): number {
  let square = 0;
  for (let d = 0; d < 2; d++) {
    const cr = modes.shape[3 * i + d]!;
    const ci = modes.shapeIm === undefined ? 0 : modes.shapeIm[3 * i + d]!;
    const fr = far.shape[2 * i + d]!;
    const fi = far.shapeIm === undefined ? 0 : far.shapeIm[2 * i + d]!;
    const k = at + 2 * d;
    out[k] = Math.SQRT1_2 * (cr + fr);
    out[k + 1] = Math.SQRT1_2 * (ci + fi);
    out[k + 4] = Math.SQRT1_2 * (cr - fr);
    out[k + 5] = Math.SQRT1_2 * (ci - fi);
    square += cr * cr + ci * ci + fr * fr + fi * fi;
  }
  return square;
}

/** The crown's 3 x 3 as the upper half of the 4 x 4. */
function crownResidual(r: Float64Array): Float64Array {
  const [xx, xy, yy] = [r[0]! / 2, (r[1]! + r[3]!) / 4, r[4]! / 2];
  return Float64Array.of(xx, xy, xx, xy, yy, xy, yy, xx, xy, yy);
}

type StringEndsPart = Pick<EndsSystem, "string" | "endWeight" | "stiffness" | "mass" | "tail" | "beyond">;

function stringEnds(s: StretchedString, maxFrequency: number): StringEndsPart {
  const count = partialsBelow(s, 1.6 * maxFrequency) + 4;
  const partials = stringPartials(s, count + partialsBeyond);
  const mass = s.linearDensity * s.length;
  const string = { count, re: new Float64Array(count), im: new Float64Array(count) };
  const endWeight = new Float64Array(count);
  const beyond = new Float64Array(partialsBeyond);
  const tail = new Float64Array(12);
  for (let n = 1; n <= count + partialsBeyond; n++) {
    const own = partials.omega[n - 1]!;
    const re = own * own;
    const im = re * partials.lossFactor[n - 1]!;
    const weight = (4 * mass) / (n * Math.PI) ** 2;
    if (n <= count) {
      string.re[n - 1] = re;
      string.im[n - 1] = im;
      endWeight[n - 1] = weight;
      continue;
    }
    beyond[n - 1 - count] = re;
    const size = re * re + im * im;
    let a = weight;
    let b = 0;
    for (let at = n % 2 === 1 ? 0 : 6, k = 0; k < 3; k++, at += 2) {
      const c = (a * re + b * im) / size;
      b = (b * re - a * im) / size;
      a = c;
      tail[at] = tail[at]! + a;
      tail[at + 1] = tail[at + 1]! + b;
    }
  }
  const k = (2 * s.tension) / s.length;
  return { string, endWeight, stiffness: [k, k * s.loss.friction], mass, tail, beyond };
}

/** Rank of the compliance in the coordinates d and d + 1 over all frequencies. */
function rankOf(
  d: number,
  shape: Float64Array,
  rigid: Float64Array,
  residual: Float64Array,
  squares: Float64Array,
): number {
  const scale = squares.length > 0 ? squares[0]! : 1;
  const at = d === 0 ? 0 : 7;
  let xx = Math.abs(residual[at]!);
  let xy = residual[at + 1]!;
  let yy = Math.abs(residual[d === 0 ? 4 : 9]!);
  for (let k = d; k < rigid.length; k += 4) {
    xx += rigid[k]! ** 2 / scale;
    xy += (rigid[k]! * rigid[k + 1]!) / scale;
    yy += rigid[k + 1]! ** 2 / scale;
  }
  for (let i = 0; i < squares.length; i++) {
    const k = 8 * i + 2 * d;
    const a = shape[k]!;
    const b = shape[k + 1]!;
    const p = shape[k + 2]!;
    const q = shape[k + 3]!;
    xx += (a * a + b * b) / squares[i]!;
    xy += (a * p + b * q) / squares[i]!;
    yy += (p * p + q * q) / squares[i]!;
  }
  const trace = xx + yy;
  if (trace === 0) return 0;
  return xx * yy - xy * xy > thinnest * trace * trace ? 2 : 1;
}
