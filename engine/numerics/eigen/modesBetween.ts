/** The modes of one slice of the spectrum, with the proof that none is missed. */
import { invariant } from "../invariant.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { pivotFloor } from "../sparse/factorize.ts";
import { type SparseSymmetric, symmetricMultiply } from "../sparse/symmetric.ts";
import { denseModes } from "./denseModes.ts";
import { basisFor, type Eigenpairs, iteratedModes } from "./iteratedModes.ts";
import { factorAt, factorNear, type Pencil, type PencilOptions, pencil, steadyFloor } from "./pencil.ts";

/** Eigenpairs with from <= lambda < to (as Eigenpairs), and how they were counted. Plain data. */
export interface ModeSlice extends Eigenpairs {
  readonly from: number;
  readonly to: number;
  /** Eigenvalues below the slice's lower end, by Sturm counts (of a factorisation there, or at the shift). */
  readonly below: number;
  /** Whether the number of pairs is proved by a count at both ends; else joinSlices proves it with its neighbours. */
  readonly proved: boolean;
  /** Where the inverse was taken: a factor of K - shift M. */
  readonly shift: number;
  readonly ran: "wasm" | "typescript";
}

export interface SliceOptions extends PencilOptions {
  /** Ends of the slice, lambda (rad2/s2), 0 <= from < to. */
  readonly from: number;
  readonly to: number;
  /** Default: the middle of the slice. Moved a little where the factor would be unsteady there. */
  readonly shift?: number;
  /**
   * Whether the eigenvalues below each end are counted by a factorisation there (default true; nothing lies below 0, so
   * that `from` = 0 needs none). Two slices that meet need no count between them: see joinSlices.
   */
  readonly countFrom?: boolean;
  readonly countTo?: boolean;
  /** Relative residual of the inverse problem at which a pair counts as converged; default 1e-9. */
  readonly tolerance?: number;
  /** About how many modes to expect, where the ends are not counted. */
  readonly expected?: number;
}

/** Below so many unknowns to a mode the dense solver takes over. */
const denseUpTo = 40;

/**
 * All eigenpairs of K x = lambda M x in the slice: Sturm counts say how many there are on each side of the shift, and
 * block Lanczos around the shift goes on until it has them all. K and M positive semidefinite.
 * Residuals are relative to lambda + to / 1000. Failures: 'not-converged', 'singular' (no steady factor near the shift,
 * naming the degree of freedom), 'cancelled'.
 */
export function modesBetween(
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: SliceOptions,
  context: Context,
): Outcome<ModeSlice> {
  const { from, to, shift = 0.5 * (from + to), countFrom = true, countTo = true } = o;
  invariant(from >= 0 && to > from, () => `a slice from ${from} to ${to}`);
  invariant(shift > from && shift < to, () => `shift ${shift} outside the slice`);
  const p = pencil(k, m, o, Math.min(k.n, basisFor(o.expected ?? likelyCount)), context);
  const slice = sliceIn(p, k, m, { ...o, shift, countFrom, countTo }, context);
  return slice.ok || slice.reason !== roomTooSmall
    ? slice
    : sliceIn(
        pencil(k, m, o, Math.min(k.n, basisFor(Number(slice.detail))), context),
        k,
        m,
        { ...o, shift, countFrom, countTo },
        context,
      );
}

/** Why `sliceIn` gives up where there are more modes than its pencil has room for; the detail is their count. */
export const roomTooSmall = "room-too-small";

/**
 * modesBetween in a pencil that is there already; the factor is replaced, and stands at the shift at last. A shift of zero
 * or less lies below the whole slice, which then begins at 0: K - shift M must be definite.
 */
export function sliceIn(
  p: Pencil,
  k: SparseSymmetric,
  m: SparseSymmetric,
  o: SliceOptions & { readonly shift: number; readonly countFrom: boolean; readonly countTo: boolean },
  context: Context,
): Outcome<ModeSlice> {
  const { from, to, tolerance = 1e-9 } = o;
  const { n } = p;
  const rigid = p.rigid.length / n;
  const lowEnd = from > 0 && o.countFrom ? countAt(p, from, context) : done(from > 0 ? -1 : 0);
  if (!lowEnd.ok) return lowEnd;
  const highEnd = o.countTo ? countAt(p, to, context) : done(-1);
  if (!highEnd.ok) return highEnd;
  const factored =
    o.shift > 0
      ? factorNear(p, o.shift, 1e-3 * (to - from), steadyFloor, context)
      : factorBelow(p, o.shift, context);
  if (!factored.ok) return factored;
  const { sigma, below: belowShift } = factored.value;
  const [low, high] = [lowEnd.value, highEnd.value];
  const facts = { from, to, shift: sigma, proved: low >= 0 && high >= 0, ran: p.kernels.name };
  invariant(
    low <= belowShift && (high < 0 || high >= belowShift),
    () => `${low}, ${belowShift}, ${high} below`,
  );
  const count = low >= 0 && high >= 0 ? high - low : (o.expected ?? likelyCount / 2);
  if (low >= 0 && high === low) return done({ ...nothing(), ...facts, below: low });
  if (n <= Math.max(denseUpTo, 3 * count)) return denseSlice(k, m, belowShift, facts);
  if (basisFor(count) > p.largestBasis && p.largestBasis < n) return failed(roomTooSmall, `${count}`);
  const pairs = iteratedModes(
    p,
    sigma,
    {
      left: low < 0 ? { end: from } : { count: belowShift - low - (sigma > 0 && low === 0 ? rigid : 0) },
      right: high < 0 ? { end: to } : { count: high - belowShift - (sigma > 0 ? 0 : rigid) },
      tolerance,
      expected: count,
      offset: 1e-3 * to,
    },
    context,
  );
  if (!pairs.ok) return pairs;
  const { left, values, vectors, residuals } = pairs.value;
  if (from > 0 || rigid === 0)
    return done({ values, vectors, residuals, ...facts, below: belowShift - left });
  const still = rigidModes(k, m, p, to);
  if (still.values.some((v) => !(Math.abs(v) < 1e-6 * to)))
    return failed("not-rigid", "a motion said to be rigid stores energy");
  return done({
    values: concatenated(still.values, values),
    vectors: concatenated(still.vectors, vectors),
    residuals: concatenated(still.residuals, residuals),
    ...facts,
    below: 0,
  });
}

/** The factor at a shift below all eigenvalues. */
function factorBelow(
  p: Pencil,
  sigma: number,
  context: Context,
): Outcome<{ readonly sigma: number; readonly below: number }> {
  const factored = factorAt(p, sigma, { definite: true }, context);
  return factored.ok ? done({ sigma, below: 0 }) : factored;
}

/** Room for so many modes is made before they are counted; where there are more, it is made again. */
export const likelyCount = 130;

export function nothing(): Eigenpairs {
  return { values: new Float64Array(0), vectors: new Float64Array(0), residuals: new Float64Array(0) };
}

/** Eigenvalues below lambda. The factor is replaced. */
export function countAt(p: Pencil, lambda: number, context: Context): Outcome<number> {
  const counted = factorNear(p, lambda, 1e-9 * lambda, pivotFloor, context);
  return counted.ok ? done(counted.value.below) : counted;
}

/** Number of eigenvalues of K x = lambda M x below lambda, by the inertia of K - lambda M (Sylvester). */
export function countBelow(
  k: SparseSymmetric,
  m: SparseSymmetric,
  lambda: number,
  o: PencilOptions,
  context: Context,
): Outcome<number> {
  return countAt(pencil(k, m, o, 0, context), lambda, context);
}

/** The rigid motions as modes: Rayleigh's quotient is zero to rounding; residuals as if lambda were to / 1000. */
function rigidModes(k: SparseSymmetric, m: SparseSymmetric, p: Pencil, to: number): Eigenpairs {
  const { rigid, n } = p;
  const count = rigid.length / n;
  const kx = symmetricMultiply(k, rigid, count);
  const mx = symmetricMultiply(m, rigid, count);
  const values = new Float64Array(count);
  const residuals = new Float64Array(count);
  for (let c = 0; c < count; c++) {
    let rest = 0;
    let force = 0;
    for (let i = c * n; i < (c + 1) * n; i++) {
      values[c] += kx[i] * rigid[i];
      rest += kx[i] ** 2;
      force += mx[i] ** 2;
    }
    residuals[c] = Math.sqrt(rest / force) / (1e-3 * to);
  }
  return { values, vectors: rigid, residuals };
}

function concatenated(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length + b.length);
  out.set(a);
  out.set(b, a.length);
  return out;
}

function denseSlice(
  k: SparseSymmetric,
  m: SparseSymmetric,
  belowShift: number,
  facts: Omit<ModeSlice, "below" | keyof Eigenpairs>,
): Outcome<ModeSlice> {
  const { n } = k;
  const all = denseModes(k, m, facts.to); // K + to M is positive definite also for free bodies
  if (!all.ok) return all;
  const { values, vectors, residuals } = all.value;
  const below = values.filter((v) => v < facts.from).length;
  const end = values.filter((v) => v < facts.to).length;
  const found = values.filter((v) => v < facts.shift).length;
  if (found !== belowShift)
    return failed("not-converged", `${found} eigenvalues below ${facts.shift}, counted ${belowShift}`);
  return done({
    values: values.slice(below, end),
    vectors: vectors.slice(below * n, end * n),
    residuals: residuals.slice(below, end),
    ...facts,
    below,
  });
}
