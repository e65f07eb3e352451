/** A plane curve with continuous curvature, as a plain record, and what can be asked of it. */
import type { Point, Polygon } from "./polygon.ts";

/**
 * Pieces of quintic Hermite interpolation: position, first and second derivative are given at each knot, so the curve is
 * C2. Point k stands at knots[k]; a closed curve repeats its first point at its last knot. The parameter is arc length
 * for curves made here, and close to it for curves through points.
 */
export interface PlaneCurve {
  readonly closed: boolean;
  /** n + 1 ascending parameters. */
  readonly knots: Float64Array;
  /** x, y at each knot, m. */
  readonly points: Float64Array;
  /** d/dt at each knot. */
  readonly tangents: Float64Array;
  /** d2/dt2 at each knot. */
  readonly seconds: Float64Array;
}

/** Index of the piece that holds t, and t brought into the curve's range (closed curves wrap). */
function pieceOf(curve: PlaneCurve, t: number): readonly [piece: number, t: number] {
  const { knots } = curve;
  const last = knots.length - 1;
  const start = knots[0];
  const end = knots[last];
  let at = t;
  if (curve.closed) at = t - Math.floor((t - start) / (end - start)) * (end - start);
  at = Math.min(end, Math.max(start, at));
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= at) low = middle;
    else high = middle;
  }
  return [low, at];
}

/** Position, first and second derivative of both coordinates at parameter t: [x, y, x', y', x'', y'']. */
export function curveJet(
  curve: PlaneCurve,
  t: number,
): readonly [number, number, number, number, number, number] {
  const [k, at] = pieceOf(curve, t);
  const h = curve.knots[k + 1] - curve.knots[k];
  const u = (at - curve.knots[k]) / h;
  const out: [number, number, number, number, number, number] = [0, 0, 0, 0, 0, 0];
  for (let c = 0; c < 2; c++) {
    const p0 = curve.points[2 * k + c];
    const v0 = curve.tangents[2 * k + c] * h;
    const a0 = curve.seconds[2 * k + c] * h * h;
    const p1 = curve.points[2 * k + 2 + c];
    const v1 = curve.tangents[2 * k + 2 + c] * h;
    const a1 = curve.seconds[2 * k + 2 + c] * h * h;
    const d = p1 - p0 - v0 - a0 / 2;
    const e = v1 - v0 - a0;
    const f = a1 - a0;
    const c3 = 10 * d - 4 * e + f / 2;
    const c4 = -15 * d + 7 * e - f;
    const c5 = 6 * d - 3 * e + f / 2;
    out[c] = p0 + u * (v0 + u * (a0 / 2 + u * (c3 + u * (c4 + u * c5))));
    out[2 + c] = (v0 + u * (a0 + u * (3 * c3 + u * (4 * c4 + u * 5 * c5)))) / h;
    out[4 + c] = (a0 + u * (6 * c3 + u * (12 * c4 + u * 20 * c5))) / (h * h);
  }
  return out;
}

/** The place at parameter t, m. */
export function curvePoint(curve: PlaneCurve, t: number): Point {
  const jet = curveJet(curve, t);
  return [jet[0], jet[1]];
}

/** Unit tangent at t, in the sense of growing t. */
export function curveTangent(curve: PlaneCurve, t: number): Point {
  const jet = curveJet(curve, t);
  const speed = Math.hypot(jet[2], jet[3]);
  return [jet[2] / speed, jet[3] / speed];
}

/** Signed curvature at t, 1/m: positive where the curve bends to its left (a convex place of an anticlockwise outline). */
export function curveCurvature(curve: PlaneCurve, t: number): number {
  const jet = curveJet(curve, t);
  return (jet[2] * jet[5] - jet[3] * jet[4]) / Math.hypot(jet[2], jet[3]) ** 3;
}

const gaussNodes = [-0.906179845938664, -0.5384693101056831, 0, 0.5384693101056831, 0.906179845938664];
const gaussWeights = [
  0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891,
];

/** Integral of f(t) |curve'(t)| dt, piece by piece, by 5-point Gauss on each half of each piece. */
export function integrateAlong(curve: PlaneCurve, f: (t: number) => number): number {
  let sum = 0;
  for (let k = 0; k + 1 < curve.knots.length; k++) {
    const quarter = (curve.knots[k + 1] - curve.knots[k]) / 4;
    for (let half = 0; half < 2; half++) {
      const middle = curve.knots[k] + (2 * half + 1) * quarter;
      for (let g = 0; g < 5; g++) {
        const t = middle + quarter * gaussNodes[g];
        const jet = curveJet(curve, t);
        sum += gaussWeights[g] * quarter * f(t) * Math.hypot(jet[2], jet[3]);
      }
    }
  }
  return sum;
}

/** Area inside a closed curve, m2, positive if it runs anticlockwise: half the integral of x dy - y dx about its start. */
export function curveArea(curve: PlaneCurve): number {
  const [x0, y0] = curve.points;
  const half = integrateAlong(curve, (t) => {
    const jet = curveJet(curve, t);
    return ((jet[0] - x0) * jet[3] - (jet[1] - y0) * jet[2]) / Math.hypot(jet[2], jet[3]);
  });
  return half / 2;
}

/** Length of the curve, m. */
export function curveLength(curve: PlaneCurve): number {
  return integrateAlong(curve, () => 1);
}

/**
 * Points along the curve about `spacing` apart, closer where it bends hard: a piece between knots is cut so that the
 * chord departs from the curve by less than spacing / 50. A closed curve does not repeat its first point.
 */
export function sampleCurve(curve: PlaneCurve, spacing: number): Polygon {
  return Float64Array.from(curveParameters(curve, spacing).flatMap((t) => curvePoint(curve, t)));
}

/** The parameters of `sampleCurve`. */
export function curveParameters(curve: PlaneCurve, spacing: number): number[] {
  const start = curve.knots[0];
  const end = curve.knots[curve.knots.length - 1];
  // Step density 1/ds is integrated finely, then cut into equal parts: even steps that shorten smoothly in tight bends.
  const fine = 8 * (curve.knots.length - 1);
  const cumulated = new Float64Array(fine + 1);
  const parameters = new Float64Array(fine + 1);
  parameters[0] = start;
  for (let i = 1; i <= fine; i++) {
    const k = Math.floor((i - 1) / 8);
    const h = (curve.knots[k + 1] - curve.knots[k]) / 8;
    const middle = curve.knots[k] + (((i - 1) % 8) + 0.5) * h;
    const jet = curveJet(curve, middle);
    const speed = Math.hypot(jet[2], jet[3]);
    const bend = Math.abs(curveCurvature(curve, middle));
    // sagitta = ds^2 bend / 8 <= spacing / 50
    const step = Math.min(spacing, Math.sqrt((8 * spacing) / 50 / Math.max(bend, 1e-300)));
    parameters[i] = parameters[i - 1] + h;
    cumulated[i] = cumulated[i - 1] + (speed * h) / step;
  }
  parameters[fine] = end;
  const count = Math.max(curve.closed ? 8 : 2, Math.ceil(cumulated[fine] - 1e-9));
  const out: number[] = [];
  let i = 0;
  for (let k = 0; k < count + (curve.closed ? 0 : 1); k++) {
    const target = (k * cumulated[fine]) / count;
    while (i + 1 < fine && cumulated[i + 1] < target) i++;
    const f = (target - cumulated[i]) / (cumulated[i + 1] - cumulated[i]);
    out.push(parameters[i] + f * (parameters[i + 1] - parameters[i]));
  }
  return out;
}
