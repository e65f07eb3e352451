import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import {
  curveCurvature,
  curveJet,
  curveLength,
  curvePoint,
  curveTangent,
  type PlaneCurve,
  sampleCurve,
} from "./curve.ts";
import { holeCurve } from "./hole.ts";
import { polygonArea } from "./polygon.ts";
import { curveThroughPoints, startedAt } from "./throughPoints.ts";

const circle = opened(holeCurve({ kind: "ellipse", centre: [0.1, 0.2], semiAxes: [0.05, 0.05], angle: 0 }));
const scribble = opened(
  curveThroughPoints(Float64Array.of(0, 0, 0.2, -0.1, 0.45, -0.05, 0.5, 0.1, 0.3, 0.08, 0.1, 0.15)),
);

/** Largest jump of position, first and second derivative over the knots of a curve. */
function jumpAtKnots(curve: PlaneCurve): number {
  const span = curve.knots[curve.knots.length - 1];
  let most = 0;
  for (const knot of curve.knots) {
    const before = curveJet(curve, knot - 1e-12 * span);
    const after = curveJet(curve, knot + 1e-12 * span);
    for (let i = 0; i < 6; i++) most = Math.max(most, Math.abs(before[i] - after[i]));
  }
  return most;
}

describe("plane curves", () => {
  it("are continuous in place, direction and curvature at every knot, the closing one included", () => {
    expect(jumpAtKnots(circle)).toBeLessThan(1e-8);
    expect(jumpAtKnots(scribble)).toBeLessThan(1e-8);
  });

  it("have the curvature, tangent and length of the circle they describe", () => {
    for (const t of [0, 0.01, 0.1234, 0.3]) {
      expect(curveCurvature(circle, t)).toBeCloseTo(20, 6);
      const [x, y] = curvePoint(circle, t);
      expect(Math.hypot(x - 0.1, y - 0.2)).toBeCloseTo(0.05, 12);
      const [dx, dy] = curveTangent(circle, t);
      expect(Math.hypot(dx, dy)).toBeCloseTo(1, 14);
      expect(dx * (x - 0.1) + dy * (y - 0.2)).toBeCloseTo(0, 10);
    }
    expect(curveLength(circle)).toBeCloseTo(0.1 * Math.PI, 12);
  });

  it("derive what they interpolate: derivatives agree with differences of places", () => {
    const span = scribble.knots[scribble.knots.length - 1];
    const h = 1e-5 * span;
    for (let i = 0; i < 40; i++) {
      const t = ((i + 0.37) / 40) * span;
      const jet = curveJet(scribble, t);
      const [before, at, after] = [t - h, t, t + h].map((s) => curvePoint(scribble, s));
      expect((after[0] - before[0]) / (2 * h)).toBeCloseTo(jet[2], 5);
      expect((after[1] - before[1]) / (2 * h)).toBeCloseTo(jet[3], 5);
      expect(Math.abs((after[0] - 2 * at[0] + before[0]) / h ** 2 - jet[4])).toBeLessThan(0.02);
      expect(Math.abs((after[1] - 2 * at[1] + before[1]) / h ** 2 - jet[5])).toBeLessThan(0.02);
    }
  });

  it("are sampled at even steps, closer where they bend hard", () => {
    const gaps = (p: Float64Array): number[] =>
      Array.from({ length: p.length / 2 }, (_, i) => {
        const j = (2 * i + 2) % p.length;
        return Math.hypot(p[j] - p[2 * i], p[j + 1] - p[2 * i + 1]);
      });
    const even = gaps(sampleCurve(circle, 0.002));
    expect(Math.max(...even) / Math.min(...even)).toBeLessThan(1.01);
    expect(Math.max(...even)).toBeLessThan(0.00201);
    const wide = sampleCurve(scribble, 0.02);
    expect(Math.max(...gaps(wide))).toBeLessThan(0.0205);
    expect(Math.min(...gaps(wide))).toBeLessThan(0.012);
  });

  it("start where they are told to and stay the same curve", () => {
    const span = scribble.knots[scribble.knots.length - 1];
    const later = startedAt(scribble, 0.31 * span);
    expect(later.knots[0]).toBe(0);
    for (const t of [0, 0.2, 0.5, 0.9]) {
      const [x, y] = curvePoint(later, t * span);
      const [u, v] = curvePoint(scribble, (t + 0.31) * span);
      expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-14);
    }
    expect(polygonArea(sampleCurve(later, 0.001))).toBeCloseTo(polygonArea(sampleCurve(scribble, 0.001)), 6);
  });

  it("refuse too few points, points on one place and points that are not finite", () => {
    const reason = (...xy: number[]): string => {
      const made = curveThroughPoints(Float64Array.from(xy));
      return made.ok ? "ok" : made.reason;
    };
    expect(reason(0, 0, 1, 0, 1, 1)).toBe("too-few-points");
    expect(reason(0, 0, 1, 0, 1, 0, 1, 1, 0, 1)).toBe("points-coincide");
    expect(reason(0, 0, 1, 0, 1, Number.NaN, 0, 1)).toBe("not-finite");
  });
});
