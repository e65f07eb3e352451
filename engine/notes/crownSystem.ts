import { partialsBelow, type StretchedString, stringPartials } from "#engine/strings";
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
  readonly body: PoleList;
  /** By mode: normal and across shape, kg^-1/2. */
  readonly shape: Float64Array;
  /** By mode: pressure times normal and times across shape. And summed over the rigid motions. */
  readonly pressureShape: Float64Array;
  readonly rigidPressure: readonly [number, number];
  /** Index of each mode in the list of bodyModes (rigid motions not counted). */
  readonly modeIndex: Int32Array;
  /** Modes that do not move the crown across the string: they stay as they are. */
  readonly apart: PoleList & { readonly modeIndex: Int32Array };
  /** sum of shape shape' over the rigid motions, and the residual: xx, xy, yy. */
  readonly rigid: readonly [number, number, number];
  readonly residual: readonly [number, number, number];
  /** Number of directions in which the body yields at all: 0, 1 or 2. */
  readonly rank: 0 | 1 | 2;
}

export interface PoleList {
  readonly count: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A mode that moves the crown less than a body of this many string masses would is left uncoupled. */
const heaviest = 1e13;
/** Compliance across the main direction below this share of it is taken as none. */
const thinnest = 1e-12;

/** Poles and weights for all roots below `maxFrequency` (Hz). */
export function crownSystem(s: StretchedString, body: BridgeModes, maxFrequency: number): CrownSystem {
  const count = partialsBelow(s, 1.6 * maxFrequency) + 4;
  const beyond = 200;
  const partials = stringPartials(s, count + beyond);
  const string = { count, re: new Float64Array(count), im: new Float64Array(count) };
  const endWeight = new Float64Array(count);
  const mass = s.linearDensity * s.length;
  const endTail = new Float64Array(6);
  for (let n = 1; n <= count + beyond; n++) {
    const square = partials.omega[n - 1]! ** 2;
    const weight = (2 * mass) / (n * Math.PI) ** 2;
    if (n <= count) {
      string.re[n - 1] = square;
      string.im[n - 1] = square * partials.lossFactor[n - 1]!;
      endWeight[n - 1] = weight;
    } else addToTail(endTail, weight, square, square * partials.lossFactor[n - 1]!);
  }
  const bodyPart = bodySystem(body, mass);
  return {
    string,
    endWeight,
    endStiffness: [s.tension / s.length, (s.tension / s.length) * s.loss.friction],
    endMass: mass / 3,
    endTail,
    ...bodyPart,
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
    [a, b] = [a * inverseRe - b * inverseIm, a * inverseIm + b * inverseRe];
    tail[2 * k] = tail[2 * k]! + a;
    tail[2 * k + 1] = tail[2 * k + 1]! + b;
  }
}

function bodySystem(
  body: BridgeModes,
  stringMass: number,
): Omit<CrownSystem, "string" | "endWeight" | "endStiffness" | "endMass" | "endTail"> {
  const re: number[] = [];
  const im: number[] = [];
  const shape: number[] = [];
  const pressureShape: number[] = [];
  const modeIndex: number[] = [];
  const apart: (readonly [re: number, im: number, index: number])[] = [];
  const rigid: [number, number, number] = [0, 0, 0];
  const rigidPressure: [number, number] = [0, 0];
  let listed = 0;
  for (let i = 0; i < body.omega.length; i++) {
    const normal = body.shape[3 * i]!;
    const across = body.shape[3 * i + 1]!;
    if (body.omega[i] === 0) {
      rigid[0] += normal * normal;
      rigid[1] += normal * across;
      rigid[2] += across * across;
      rigidPressure[0] += body.pressure[i]! * normal;
      rigidPressure[1] += body.pressure[i]! * across;
      continue;
    }
    const index = listed++;
    const square = body.omega[i]! ** 2;
    if ((normal * normal + across * across) * stringMass * heaviest < 1) {
      apart.push([square, square / body.q[i]!, index]);
      continue;
    }
    re.push(square);
    im.push(square / body.q[i]!);
    shape.push(normal, across);
    pressureShape.push(body.pressure[i]! * normal, body.pressure[i]! * across);
    modeIndex.push(index);
  }
  const r = body.residual;
  const residual: [number, number, number] = [r[0]!, (r[1]! + r[3]!) / 2, r[4]!];
  const flat = flattened(shape, rigid, residual, re);
  return {
    body: { count: re.length, re: Float64Array.from(re), im: Float64Array.from(im) },
    shape: Float64Array.from(shape),
    pressureShape: Float64Array.from(pressureShape),
    rigidPressure,
    modeIndex: Int32Array.from(modeIndex),
    apart: {
      count: apart.length,
      re: Float64Array.from(apart, (a) => a[0]),
      im: Float64Array.from(apart, (a) => a[1]),
      modeIndex: Int32Array.from(apart, (a) => a[2]),
    },
    rigid,
    residual,
    rank: flat,
  };
}

/** Rank of the compliance over all frequencies: that of sum shape shape'/omega^2 + rigid/lowest + |residual|. */
function flattened(
  shape: readonly number[],
  rigid: readonly number[],
  residual: readonly number[],
  squares: readonly number[],
): 0 | 1 | 2 {
  const scale = squares.length > 0 ? Math.min(...squares) : 1;
  let xx = rigid[0]! / scale + Math.abs(residual[0]!);
  let xy = rigid[1]! / scale + residual[1]!;
  let yy = rigid[2]! / scale + Math.abs(residual[2]!);
  for (let i = 0; i < squares.length; i++) {
    xx += shape[2 * i]! ** 2 / squares[i]!;
    xy += (shape[2 * i]! * shape[2 * i + 1]!) / squares[i]!;
    yy += shape[2 * i + 1]! ** 2 / squares[i]!;
  }
  const trace = xx + yy;
  if (trace === 0) return 0;
  return xx * yy - xy * xy > thinnest * trace * trace ? 2 : 1;
}
