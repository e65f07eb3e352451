import { done, failed, type KernelSource, type Outcome } from "#engine/numerics";
import { complexModes } from "./complexModes.ts";
import type { CoupledStructure } from "./coupledStructure.ts";
import { modalLosses, type UndampedModes } from "./modalLosses.ts";
import { timesTransposed } from "./timesTransposed.ts";
import { undampedStructure } from "./undampedStructure.ts";
import { unitMass } from "./unitMass.ts";

/** Modes of the coupled body, ascending by damped frequency; motions of the undamped modes, forms of the damped. */
export interface DampedStructure {
  readonly count: number;
  readonly rigidCount: number;
  /** omega^2 of the undamped mode that each grew from. */
  readonly square: Float64Array;
  /** count x n: undamped modes; rigidCount x n: motions of the whole body. */
  readonly vectors: Float64Array;
  readonly rigid: Float64Array;
  /** rad/s: Re w; and Re w/(2 Im w). */
  readonly omega: Float64Array;
  readonly q: Float64Array;
  /** Modes that damping has made one with a neighbour (an exceptional point): first approximations. */
  readonly merged: readonly number[];
  /** count x 3 [wood, hole and leak, radiation]. */
  readonly lossShare: Float64Array;
  /** 3C x 3C, m/N: what modes that were not kept yield at rest. */
  readonly beyond: Float64Array;
  /** Forms of `CoupledRows` and of the outer pressures on the damped modes, form by form: rows x count. */
  readonly crowns: ComplexForms;
  readonly saddle: ComplexForms;
  readonly flow: ComplexForms;
  readonly neck: ComplexForms;
  readonly pressure: ComplexForms;
}

export interface ComplexForms {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Undamped modes, then damping as it couples them (`modalLosses`, `complexModes`). Fails as `undampedStructure` does. */
export function dampedStructure(c: CoupledStructure, kernels?: KernelSource): Outcome<DampedStructure> {
  const solved = undampedStructure(c, kernels);
  if (!solved.ok) return solved;
  const { modes: all, rigid } = solved.value;
  const { n, rows, outside } = c;
  const { modes, beyond } = keptModes(c, all);
  const { count } = modes;
  const losses = modalLosses(c, modes);
  const onModes = (forms: Float64Array) => timesTransposed(forms, modes.vectors, forms.length / n, count, n);
  const real = [rows.crowns, rows.saddle, rows.flow, rows.neck].map(onModes);
  const pressureRe = onModes(outside?.pressureRe ?? new Float64Array(0));
  const pressureIm = onModes(outside?.pressureIm ?? new Float64Array(0));
  const formsRe = joined([...real, pressureRe]);
  const formsIm = new Float64Array(formsRe.length);
  formsIm.set(pressureIm, formsRe.length - pressureIm.length);
  const unit = unitMass(losses, count, formsRe, formsIm);
  const damped = complexModes(unit.re, unit.im, count, unit.formsRe, unit.formsIm);
  const omega = new Float64Array(count);
  const q = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [a, b] = [damped.re[i], damped.im[i]];
    if (!(a > 0 && b >= -1e-12 * a)) return failed("not-stable", `a damped mode has w^2 = ${a} + ${b} i`);
    omega[i] = Math.sqrt((Math.hypot(a, b) + a) / 2);
    // Re w/(2 Im w), Im w = b/(2 Re w)
    q[i] = omega[i] ** 2 / Math.max(b, 0);
  }
  const order = Array.from(omega.keys()).sort((i, j) => omega[i] - omega[j]);
  let from = 0;
  const forms = (height: number): ComplexForms => {
    const take = (a: Float64Array) => columns(a.subarray(from * count, (from + height) * count), order);
    const out = { re: take(damped.rowsRe), im: take(damped.rowsIm) };
    from += height;
    return out;
  };
  const shares = losses.parts.map((v, k) => {
    const i = k - (k % 3);
    return v / (losses.parts[i] + losses.parts[i + 1] + losses.parts[i + 2] || 1);
  });
  return done({
    count,
    rigidCount: c.rigidCount,
    square: Float64Array.from(order, (i) => modes.square[i]),
    vectors: rowsOf(modes.vectors, order),
    rigid,
    omega: Float64Array.from(order, (i) => omega[i]),
    q: Float64Array.from(order, (i) => q[i]),
    merged: order.flatMap((i, to) => (damped.merged.has(i) ? [to] : [])),
    lossShare: rowsOf(shares, order),
    beyond,
    crowns: forms(rows.crowns.length / n),
    saddle: forms(1),
    flow: forms(4),
    neck: forms(rows.neck.length / n),
    pressure: forms(pressureRe.length / count),
  });
}

/** The modes up to `staticAbove`, and what the others yield at the crowns at rest. */
function keptModes(
  { n, rows, staticAbove = Number.POSITIVE_INFINITY }: CoupledStructure,
  { count, square, vectors }: UndampedModes,
): { readonly modes: UndampedModes; readonly beyond: Float64Array } {
  let kept = count;
  while (kept > 0 && square[kept - 1] > staticAbove ** 2) kept--;
  const size = rows.crowns.length / n;
  const rest = count - kept;
  const still = timesTransposed(rows.crowns, vectors.subarray(kept * n), size, rest, n);
  for (let k = 0; k < still.length; k++) still[k] /= Math.sqrt(square[kept + (k % rest)]);
  return {
    modes: { count: kept, square: square.subarray(0, kept), vectors: vectors.subarray(0, kept * n) },
    beyond: timesTransposed(still, still, size, size, rest, true),
  };
}

function joined(parts: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const p of parts) {
    out.set(p, at);
    at += p.length;
  }
  return out;
}

function rowsOf(a: Float64Array, order: readonly number[]): Float64Array {
  const width = a.length / order.length;
  const out = new Float64Array(a.length);
  order.forEach((from, to) => {
    out.set(a.subarray(from * width, (from + 1) * width), to * width);
  });
  return out;
}

function columns(a: Float64Array, order: readonly number[]): Float64Array {
  const width = order.length;
  const out = new Float64Array(a.length);
  for (let row = 0; row < a.length; row += width)
    order.forEach((from, to) => {
      out[row + to] = a[row + from];
    });
  return out;
}
