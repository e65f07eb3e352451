import { pressureTable } from "#engine/response";
import { partialsBelow, type StretchedString, stringPartials } from "#engine/strings";
import type { BodyCells } from "./bodyCells.ts";
import type { BridgeModes } from "./bridgeModes.ts";

/**
 * A string and a body, ready to be coupled at the crown: poles and weights of both. lambda = w^2 throughout.
 *
 * The string hangs between a hinge at the far end and the crown, which moves by u (2 directions). In the coordinates
 * {u, sine modes b_n} its equations are exact; eliminating b_n leaves, in each direction, the force that it takes to
 * move the end and the force that a unit pluck puts on a held bridge:
 *   D = K - lambda m - lambda^2 sum_n c_n/(lambda_n - lambda),     c_n = 2 mu L/(n pi)^2,  K = T(1 + i friction)/L,  m = mu L/3
 *   W = (1 - x/L) + lambda sum_n d_n/(lambda_n - lambda),          d_n = 2 sin(n pi x/L)/(n pi),   x from the crown
 *   lambda_n = omega_n^2 (1 + i eta_n): each partial carries its own loss factor
 * Partials beyond the list enter as power series in lambda (the tails). The body is G of `BridgeModes`; the coupled
 * modes are the roots of det[I + D G].
 */
export interface CrownSystem {
  readonly string: PoleList;
  /** c_n, kg. */
  readonly endWeight: Float64Array;
  readonly endStiffness: readonly [re: number, im: number];
  readonly endMass: number;
  /** sum of c_n/lambda_n^k over the partials left out, k = 1, 2, 3; re, im each. */
  readonly endTail: Float64Array;
  /** Real parts of lambda_n of the partials left out. */
  readonly beyond: Float64Array;
  /** Ascending by their real parts. */
  readonly body: PoleList;
  /** By mode: shape shape' as xx, xy, yy, complex (6 numbers), 1/kg. */
  readonly weight: Float64Array;
  /** What is heard of the body's motions. */
  readonly sound: HeardModes;
  /** Index of each mode in the list of bodyModes (rigid motions not counted). */
  readonly modeIndex: Int32Array;
  /** Modes that do not move the crown across the string: they stay as they are. */
  readonly apart: PoleList & { readonly modeIndex: Int32Array };
  /** sum of shape shape' over the rigid motions, and the residual: xx, xy, yy. */
  readonly rigid: readonly [number, number, number];
  readonly residual: readonly [number, number, number];
  /** Number of directions in which the body yields at all: 0, 1 or 2. */
  readonly rank: 0 | 1 | 2;
  /** Given for the quick way: the body's sums are taken by cells. */
  readonly cells?: BodyCells | undefined;
}

/** Pressure at 1 m per unit acceleration times normal and across shape (4 numbers: re, im of each), on even frequencies. */
export interface HeardModes {
  /** Step of the table, rad/s; a table of one row holds at every frequency. */
  readonly step: number;
  readonly rows: number;
  /** rows x modes x 4, in the order of `body`; rows x 4: summed over the rigid motions. */
  readonly modes: Float64Array;
  readonly rigid: Float64Array;
}

export interface PoleList {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A mode that moves the crown less than a body of this mass (kg) would is left uncoupled. */
const heaviest = 1e10;
/** Compliance across the main direction below this share of it is taken as none. */
const thinnest = 1e-12;

/** Partials that the tails are summed over; and in the quick way. */
const manyBeyond = 200;
const fewBeyond = 24;

/** Poles and weights of string and body; the string's may be at hand. */
export function crownSystem(
  s: StretchedString,
  body: BodyPoles,
  maxFrequency: number,
  own: StringPoles = stringPoles(s, maxFrequency, body.cells !== undefined),
): CrownSystem {
  // named one by one: engines make slow objects of two that are spread
  return {
    string: own.string,
    endWeight: own.endWeight,
    endStiffness: own.endStiffness,
    endMass: own.endMass,
    endTail: own.endTail,
    beyond: own.beyond,
    body: body.body,
    weight: body.weight,
    sound: body.sound,
    modeIndex: body.modeIndex,
    apart: body.apart,
    rigid: body.rigid,
    residual: body.residual,
    rank: body.rank,
    cells: body.cells,
  };
}

/** The string's part of a system: what an edit of the body leaves as it is. */
export type StringPoles = Omit<CrownSystem, keyof BodyPoles>;

/** Poles and weights of the string for all roots below `maxFrequency` (Hz). */
export function stringPoles(s: StretchedString, maxFrequency: number, quick: boolean): StringPoles {
  const count = partialsBelow(s, 1.6 * maxFrequency) + 4;
  const partialsBeyond = quick ? fewBeyond : manyBeyond;
  const partials = stringPartials(s, count + partialsBeyond);
  const beyond = new Float64Array(partialsBeyond);
  const string = { count, re: new Float64Array(count), im: new Float64Array(count) };
  const endWeight = new Float64Array(count);
  const mass = s.linearDensity * s.length;
  const endTail = new Float64Array(6);
  for (let n = 1; n <= count + partialsBeyond; n++) {
    const square = partials.omega[n - 1]! ** 2;
    const weight = (2 * mass) / (n * Math.PI) ** 2;
    if (n <= count) {
      string.re[n - 1] = square;
      string.im[n - 1] = square * partials.lossFactor[n - 1]!;
      endWeight[n - 1] = weight;
    } else {
      beyond[n - 1 - count] = square;
      addToTail(endTail, weight, square, square * partials.lossFactor[n - 1]!);
    }
  }
  return {
    string,
    endWeight,
    endStiffness: [s.tension / s.length, (s.tension / s.length) * s.loss.friction],
    endMass: mass / 3,
    endTail,
    beyond,
  };
}

/** Adds weight/pole^k, k = 1, 2, 3, to the tail. */
function addToTail(tail: Float64Array, weight: number, re: number, im: number): void {
  const size = re * re + im * im;
  const inverseRe = re / size;
  const inverseIm = -im / size;
  let a = weight;
  let b = 0;
  for (let k = 0; k < 3; k++) {
    const next = a * inverseRe - b * inverseIm;
    b = a * inverseIm + b * inverseRe;
    a = next;
    tail[2 * k] = tail[2 * k]! + a;
    tail[2 * k + 1] = tail[2 * k + 1]! + b;
  }
}

export type BodyPoles = Omit<
  CrownSystem,
  "string" | "endWeight" | "endStiffness" | "endMass" | "endTail" | "beyond"
>;

/** Spacing of the table of pressures, Hz: on it the pressures of a guitar's modes are straight to 0.1 % between rows; and to 1 %. */
const fineStep = 20;
export const coarseStep = 60;

/** Poles and weights of the body as one string meets it, ascending; the same for all its notes. */
export function bodyPoles(body: BridgeModes, table: SoundTable = soundTable(body)): BodyPoles {
  const count = body.omega.length;
  const re: number[] = [];
  const im: number[] = [];
  const weight: number[] = [];
  const modeIndex: number[] = [];
  const kept: number[] = [];
  const rigidAt: number[] = [];
  const apart: (readonly [re: number, im: number, index: number])[] = [];
  const rigid: [number, number, number] = [0, 0, 0];
  let listed = 0;
  const listing = new Int32Array(count);
  for (let i = 0; i < count; i++) if (body.omega[i] !== 0) listing[i] = listed++;
  const ascending = Array.from(body.omega.keys()).sort((i, j) => body.omega[i]! - body.omega[j]! || i - j);
  for (const i of ascending) {
    const [a, c] = [body.shape[3 * i]!, body.shape[3 * i + 1]!];
    if (body.omega[i] === 0) {
      rigid[0] += a * a;
      rigid[1] += a * c;
      rigid[2] += c * c;
      rigidAt.push(i);
      continue;
    }
    const [b, d] = [body.shapeIm?.[3 * i] ?? 0, body.shapeIm?.[3 * i + 1] ?? 0];
    const index = listing[i]!;
    const square = body.omega[i]! ** 2;
    if ((a * a + b * b + c * c + d * d) * heaviest < 1) {
      apart.push([square, square / body.q[i]!, index]);
      continue;
    }
    kept.push(i);
    re.push(square);
    im.push(square / body.q[i]!);
    weight.push(a * a - b * b, 2 * a * b, a * c - b * d, a * d + b * c, c * c - d * d, 2 * c * d);
    modeIndex.push(index);
  }
  const r = body.residual;
  const residual: [number, number, number] = [r[0]!, (r[1]! + r[3]!) / 2, r[4]!];
  return {
    body: { count: re.length, re: Float64Array.from(re), im: Float64Array.from(im) },
    weight: Float64Array.from(weight),
    sound: heardModes(body, table, kept, rigidAt),
    modeIndex: Int32Array.from(modeIndex),
    apart: {
      count: apart.length,
      re: Float64Array.from(apart, (a) => a[0]),
      im: Float64Array.from(apart, (a) => a[1]),
      modeIndex: Int32Array.from(apart, (a) => a[2]),
    },
    rigid,
    residual,
    rank: flattened(weight, rigid, residual, re),
  };
}

/** Pressure of every mode of the record, row by row of even steps of frequency (Hz): the same for all strings. */
export interface SoundTable {
  readonly step: number;
  readonly rows: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** One row for a small source, else in even steps up to the end of the given table. */
export function soundTable({ sound, pressure }: BridgeModes, step = fineStep): SoundTable {
  if (!sound) return { step, rows: 1, re: pressure, im: new Float64Array(pressure.length) };
  const top = sound.frequencies[sound.frequencies.length - 1]!;
  const rows = 1 + Math.ceil(top / step);
  const at = Float64Array.from({ length: rows }, (_, k) => Math.min(top, k * step));
  return { step, rows, ...pressureTable(sound, 0, at) };
}

/** Pressure times shape. */
function heardModes(
  body: BridgeModes,
  table: SoundTable,
  kept: readonly number[],
  rigid: readonly number[],
): HeardModes {
  const count = body.omega.length;
  const { rows } = table;
  const modes = new Float64Array(rows * kept.length * 4);
  const whole = new Float64Array(rows * 4);
  const { shape, shapeIm } = body;
  const put = (out: Float64Array, at: number, row: number, i: number): void => {
    const pr = table.re[row * count + i]!;
    const pi = table.im[row * count + i]!;
    for (let d = 0; d < 2; d++) {
      const a = shape[3 * i + d]!;
      const b = shapeIm === undefined ? 0 : shapeIm[3 * i + d]!;
      out[at + 2 * d] = out[at + 2 * d]! + pr * a - pi * b;
      out[at + 2 * d + 1] = out[at + 2 * d + 1]! + pr * b + pi * a;
    }
  };
  for (let row = 0; row < rows; row++) {
    for (let k = 0; k < kept.length; k++) put(modes, 4 * (row * kept.length + k), row, kept[k]!);
    for (const i of rigid) put(whole, 4 * row, row, i);
  }
  return { step: 2 * Math.PI * table.step, rows, modes, rigid: whole };
}

/** Rank of the compliance over all frequencies: that of sum |shape shape'|/omega^2 + rigid/lowest + |residual|. */
function flattened(
  weight: readonly number[],
  rigid: readonly number[],
  residual: readonly number[],
  squares: readonly number[],
): 0 | 1 | 2 {
  const scale = squares.length > 0 ? Math.min(...squares) : 1;
  let xx = rigid[0]! / scale + Math.abs(residual[0]!);
  let xy = rigid[1]! / scale + residual[1]!;
  let yy = rigid[2]! / scale + Math.abs(residual[2]!);
  for (let i = 0; i < squares.length; i++) {
    xx += weight[6 * i]! / squares[i]!;
    xy += weight[6 * i + 2]! / squares[i]!;
    yy += weight[6 * i + 4]! / squares[i]!;
  }
  const trace = xx + yy;
  if (trace === 0) return 0;
  return xx * yy - xy * xy > thinnest * trace * trace ? 2 : 1;
}
