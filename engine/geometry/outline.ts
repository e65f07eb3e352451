/** The body's edge before any cutaway, from trade dimensions or through points. */
import { brent, done, failed, invariant, type Outcome, type Warning } from "#engine/numerics";
import type { OutlineDimensions, OutlineSpec, SideShift, WidthAt } from "./bodySpec.ts";
import { curveParameters, curvePoint, type PlaneCurve } from "./curve.ts";
import { type FairPlace, fairCurve } from "./fairCurve.ts";
import { anticlockwise, type Point } from "./polygon.ts";
import { curveThroughPoints, startedAt } from "./throughPoints.ts";

/** The edge as a closed curve, anticlockwise, starting at the tail; where the neck end lies on it. */
export interface OutlineCurve {
  readonly curve: PlaneCurve;
  /** Tail to neck end along the centreline, m. */
  readonly length: number;
  /** Parameter of the neck end on the curve. */
  readonly neckEnd: number;
}

/**
 * The outline of a body. From dimensions: the curve of least change of curvature (see `fairCurve`) through the tail, the
 * widest and narrowest places and the neck end, running along the centreline at each width and square to it at both
 * ends, so every given width is met at its station and is an extreme there. Through points: a periodic cubic spline.
 * Fails: 'dimensions' (not a guitar's order of stations and widths), 'no-fair-curve', 'too-few-points',
 * 'points-coincide', 'not-across-centreline'.
 */
export function outlineCurve(spec: OutlineSpec): Outcome<OutlineCurve> {
  if (spec.kind === "dimensions") return fromDimensions(spec);
  const drawn = curveThroughPoints(anticlockwise(spec.points));
  if (!drawn.ok) return drawn;
  return centrelineEnds(drawn.value);
}

/** A closed curve as an outline: it begins where it crosses the centreline first. Fails with 'not-across-centreline'. */
export function centrelineEnds(drawn: PlaneCurve): Outcome<OutlineCurve> {
  const ends = centrelineCrossings(drawn);
  if (ends.length < 2) {
    return failed(
      "not-across-centreline",
      "the outline must cross the centreline y = 0 at the tail and at the neck end",
    );
  }
  const tail = ends[0];
  const neck = ends[ends.length - 1];
  const curve = startedAt(drawn, tail.t);
  const warnings: Warning[] = [];
  const length = neck.x - tail.x;
  if (Math.abs(tail.x) > 1e-3 * length) {
    warnings.push({
      code: "tail-off-origin",
      detail: `the outline crosses the centreline at x = ${tail.x.toFixed(5)} m, not at the origin of the body frame`,
    });
  }
  const period = drawn.knots[drawn.knots.length - 1];
  const neckEnd = (((neck.t - tail.t) % period) + period) % period;
  return done({ curve, length, neckEnd }, warnings);
}

/** Where a closed curve crosses y = 0, sorted by x. */
function centrelineCrossings(curve: PlaneCurve): readonly { readonly t: number; readonly x: number }[] {
  const last = curve.knots[curve.knots.length - 1];
  const parameters = [...curveParameters(curve, (last - curve.knots[0]) / 400), last];
  const found: { t: number; x: number }[] = [];
  for (let i = 0; i + 1 < parameters.length; i++) {
    const a = curvePoint(curve, parameters[i])[1];
    const b = curvePoint(curve, parameters[i + 1])[1];
    if (a > 0 === b > 0) continue;
    const root = brent((at) => curvePoint(curve, at)[1], parameters[i], parameters[i + 1], 1e-14 * last);
    invariant(root.ok, () => "the centreline is crossed between two parameters, yet no root is found there");
    found.push({ t: root.value, x: curvePoint(curve, root.value)[0] });
  }
  return found.sort((p, q) => p.x - q.x);
}

function fromDimensions(spec: OutlineDimensions): Outcome<OutlineCurve> {
  const fault = dimensionFault(spec);
  if (fault !== null) return failed("dimensions", fault);
  const treble = sidePlaces(spec, spec.asymmetry?.treble);
  const bass = sidePlaces(spec, spec.asymmetry?.bass);
  const quarter = Math.PI / 2;
  const place = (point: Point, heading: number): FairPlace => ({ point, heading, curvature: null });
  const end = (point: Point, heading: number, radius: number | null): FairPlace => ({
    point,
    heading,
    curvature: radius === null ? null : 1 / radius,
  });
  // Anticlockwise from the tail: treble side to the neck, then back along the bass side.
  const places: FairPlace[] = [
    end([0, 0], -quarter, spec.tailRadius),
    ...treble.map(([x, y]) => place([x, -y], 0)),
    end([spec.length, 0], quarter, spec.neckRadius),
    ...[...bass].reverse().map(([x, y]) => place([x, y], 2 * quarter)),
  ];
  const curve = fairCurve(
    places,
    places.map((p) => p.heading ?? 0),
    "variation",
  );
  if (!curve.ok) return curve;
  const { knots, points } = curve.value;
  const neck = Array.from(knots).findIndex(
    (_, i) => Math.hypot(points[2 * i] - spec.length, points[2 * i + 1]) < 1e-9 * spec.length,
  );
  invariant(neck > 0, () => "the fair curve lost its neck end");
  return done({ curve: curve.value, length: spec.length, neckEnd: knots[neck] });
}

/** Station and half width of lower bout, waist and upper bout on one side. */
function sidePlaces(spec: OutlineDimensions, shift: SideShift | undefined): readonly Point[] {
  const shifted = (at: WidthAt, name: keyof SideShift): Point => [
    at.station + (shift?.[name]?.along ?? 0),
    at.width / 2 + (shift?.[name]?.outward ?? 0),
  ];
  return [
    shifted(spec.lowerBout, "lowerBout"),
    shifted(spec.waist, "waist"),
    shifted(spec.upperBout, "upperBout"),
  ];
}

function dimensionFault(spec: OutlineDimensions): string | null {
  for (const radius of [spec.tailRadius, spec.neckRadius]) {
    if (radius !== null && !(radius > 0)) return `an end radius is ${radius} m, must be above 0`;
  }
  for (const [name, shift] of [
    ["treble", spec.asymmetry?.treble],
    ["bass", spec.asymmetry?.bass],
  ] as const) {
    const [lower, waist, upper] = sidePlaces(spec, shift);
    const stations = [0, lower[0], waist[0], upper[0], spec.length];
    if (!stations.every((x, i) => Number.isFinite(x) && (i === 0 || x > stations[i - 1]))) {
      return `stations must rise from tail to neck on the ${name} side: ${stations.join(", ")} m`;
    }
    if (!(waist[1] > 0 && lower[1] > waist[1] && upper[1] > waist[1])) {
      return `the waist must be narrower than both bouts on the ${name} side: ${[lower[1], waist[1], upper[1]].join(", ")} m`;
    }
  }
  return null;
}
