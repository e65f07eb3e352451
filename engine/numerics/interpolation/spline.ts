/** Closed cubic splines through given values, as plain records. */
import { invariant } from "../invariant.ts";

/**
 * A twice continuously differentiable, periodic piecewise cubic. knots: ascending, the last being the first one period
 * later, with the same value; values and second derivatives at the knots.
 */
export interface PeriodicSpline {
  readonly knots: Float64Array;
  readonly values: Float64Array;
  readonly secondDerivatives: Float64Array;
}

/**
 * The closed spline. The second derivatives M satisfy, with h the spans left (i-1) and right (i) of knot i,
 *   h[i-1] M[i-1] + 2 (h[i-1] + h[i]) M[i] + h[i] M[i+1] = 6 (slope right - slope left).
 * knots: n + 1 of them, the last one period after the first; values: n + 1, the last equal to the
 * first (or n, the last being filled in).
 */
export function periodicSpline(knotList: ArrayLike<number>, valueList: ArrayLike<number>): PeriodicSpline {
  const closed = Float64Array.from(valueList);
  const all = closed.length === knotList.length ? closed : Float64Array.from([...closed, closed[0]]);
  const { knots, values, span, slope } = prepared(knotList, all);
  const n = knots.length - 1;
  invariant(values[n] === values[0], () => `a periodic spline from ${values[0]} to ${values[n]}`);
  invariant(n >= 3, () => `a periodic spline of ${n} spans`);
  // Cyclic tridiagonal system by Sherman-Morrison: the two corner entries are a rank-one change of a tridiagonal one.
  const below = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const above = new Float64Array(n);
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const left = (i + n - 1) % n;
    below[i] = span[left];
    diagonal[i] = 2 * (span[left] + span[i]);
    above[i] = span[i];
    right[i] = 6 * (slope[i] - slope[left]);
  }
  const corner = span[n - 1];
  const gamma = -diagonal[0];
  diagonal[0] -= gamma;
  diagonal[n - 1] -= (corner * corner) / gamma;
  const change = new Float64Array(n);
  change[0] = gamma;
  change[n - 1] = corner;
  const x = solveTridiagonal(below, diagonal, above, right);
  const z = solveTridiagonal(below, diagonal, above, change);
  const factor = (x[0] + (corner * x[n - 1]) / gamma) / (1 + z[0] + (corner * z[n - 1]) / gamma);
  const secondDerivatives = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) secondDerivatives[i] = x[i] - factor * z[i];
  secondDerivatives[n] = secondDerivatives[0];
  return { knots, values, secondDerivatives };
}

function prepared(knotList: ArrayLike<number>, valueList: ArrayLike<number>) {
  const knots = Float64Array.from(knotList);
  const values = Float64Array.from(valueList);
  invariant(knots.length >= 2, () => `a spline through ${knots.length} points`);
  invariant(values.length === knots.length, () => `${values.length} values at ${knots.length} knots`);
  const span = new Float64Array(knots.length - 1);
  const slope = new Float64Array(knots.length - 1);
  for (let i = 0; i < span.length; i++) {
    span[i] = knots[i + 1] - knots[i];
    invariant(span[i] > 0, () => `knots must ascend: ${knots[i]}, ${knots[i + 1]}`);
    slope[i] = (values[i + 1] - values[i]) / span[i];
  }
  return { knots, values, span, slope };
}

/** Thomas algorithm; the systems above are diagonally dominant, so no exchange of rows is needed. */
function solveTridiagonal(
  below: Float64Array,
  diagonal: Float64Array,
  above: Float64Array,
  right: Float64Array,
): Float64Array {
  const n = diagonal.length;
  const c = new Float64Array(n);
  const x = new Float64Array(n);
  let pivot = diagonal[0];
  x[0] = right[0] / pivot;
  for (let i = 1; i < n; i++) {
    c[i - 1] = above[i - 1] / pivot;
    pivot = diagonal[i] - below[i] * c[i - 1];
    x[i] = (right[i] - below[i] * x[i - 1]) / pivot;
  }
  for (let i = n - 2; i >= 0; i--) x[i] -= c[i] * x[i + 1];
  return x;
}

/** The spline or its first or second derivative at any t: it repeats itself. */
export function splineValue(s: PeriodicSpline, t: number, derivative: 0 | 1 | 2 = 0): number {
  const { knots, values, secondDerivatives: m } = s;
  const period = knots[knots.length - 1] - knots[0];
  const at = t - period * Math.floor((t - knots[0]) / period);
  const i = spanOf(knots, at);
  const h = knots[i + 1] - knots[i];
  const a = (knots[i + 1] - at) / h;
  const b = (at - knots[i]) / h;
  switch (derivative) {
    case 0:
      return (
        a * values[i] +
        b * values[i + 1] +
        (((a * a - 1) * a * m[i] + (b * b - 1) * b * m[i + 1]) * h * h) / 6
      );
    case 1:
      return (
        (values[i + 1] - values[i]) / h + (((3 * b * b - 1) * m[i + 1] - (3 * a * a - 1) * m[i]) * h) / 6
      );
    case 2:
      return a * m[i] + b * m[i + 1];
  }
}

/** Index i of the span with knots[i] <= t <= knots[i + 1]; the first or last span beyond the ends. */
export function spanOf(knots: Float64Array, t: number): number {
  let low = 0;
  let high = knots.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (knots[middle] <= t) low = middle;
    else high = middle - 1;
  }
  return low;
}
