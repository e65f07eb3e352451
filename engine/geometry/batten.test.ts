import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { type BattenWeight, battenThrough, bentBatten, layBatten } from "./batten.ts";
import { curveCurvature, curveLength, curvePoint, sampleCurve } from "./curve.ts";
import { holeCurve } from "./hole.ts";
import { outlineCurve } from "./outline.ts";
import { plainBody, plainOutline } from "./plan.fixture.ts";
import { distanceToPolyline, type Point } from "./polygon.ts";
import { shapedOutline } from "./shapedOutline.ts";

const free = (at: Point): BattenWeight => ({ at, heading: null, held: false });
const onCircle = (angles: readonly number[], radius: number): BattenWeight[] =>
  angles.map((a) => free([0.3 + radius * Math.cos(a), radius * Math.sin(a)]));

/** Farthest of the first curve's points from the second. */
function apart(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i += 2) most = Math.max(most, distanceToPolyline(b, a[i], a[i + 1], true));
  return most;
}

describe("battenThrough", () => {
  it("gives the circle through weights of a circle, however unevenly they lie (closed form: no change of curvature is the least)", () => {
    for (const angles of [
      [0, 1, 2, 3, 4, 5],
      [0, 0.4, 1.9, 2.2, 3.8, 4.1, 5.6],
    ]) {
      const curve = opened(battenThrough(onCircle(angles, 0.2)));
      for (const t of curve.knots) expect(curveCurvature(curve, t)).toBeCloseTo(5, 9);
      expect(curveLength(curve)).toBeCloseTo(2 * Math.PI * 0.2, 9);
    }
  });

  it("bends everywhere when one weight is moved, most where it was moved, and passes through every weight", () => {
    const angles = Array.from({ length: 8 }, (_, i) => (2 * Math.PI * i) / 8);
    const weights = onCircle(angles, 0.2);
    const moved = weights.map((w, i) => (i === 2 ? free([0.3, 0.21]) : w));
    const curve = opened(battenThrough(moved));
    const points = sampleCurve(curve, 0.0005);
    for (const { at } of moved) expect(distanceToPolyline(points, at[0], at[1], true)).toBeLessThan(1e-6);
    const off = (angle: number): number =>
      Math.abs(distanceToPolyline(points, 0.3 + 0.2 * Math.cos(angle), 0.2 * Math.sin(angle), true));
    const opposite = off((7 * Math.PI) / 4 - Math.PI / 8);
    expect(opposite).toBeGreaterThan(1e-6);
    expect(off(Math.PI / 2)).toBeGreaterThan(10 * opposite);
  });

  it("turns with its weights and grows with them", () => {
    const weights = [0, 0.9, 2, 3.1, 4.4, 5.2].map(
      (a, i): Point => [(0.2 + 0.02 * (i % 2)) * Math.cos(a), (0.15 + 0.01 * i) * Math.sin(a)],
    );
    const curve = opened(battenThrough(weights.map(free)));
    const turned = opened(battenThrough(weights.map(([x, y]) => free([-2 * y, 2 * x]))));
    expect(curveLength(turned) / curveLength(curve)).toBeCloseTo(2, 9);
    for (let i = 0; i <= 20; i++) {
      const t = (curve.knots[curve.knots.length - 1] * i) / 20;
      const [x, y] = curvePoint(curve, t);
      const [u, v] = curvePoint(turned, 2 * t);
      expect(u).toBeCloseTo(-2 * y, 8);
      expect(v).toBeCloseTo(2 * x, 8);
    }
  });

  it("comes to the same curve from where it lay before the hand moved a weight, as from nowhere", () => {
    const angles = Array.from({ length: 9 }, (_, i) => (2 * Math.PI * i) / 9);
    const weights = onCircle(angles, 0.2);
    const { rest } = opened(bentBatten(weights, null));
    const moved = weights.map((w, i) => (i === 4 ? free([w.at[0] - 0.006, w.at[1] + 0.003]) : w));
    const near = opened(bentBatten(moved, rest)).curve;
    const afresh = opened(bentBatten(moved, null)).curve;
    expect(near.points).toHaveLength(afresh.points.length);
    for (const [i, x] of near.points.entries()) expect(Math.abs(x - afresh.points[i])).toBeLessThan(1e-7);
    // a hole's batten is no start for an outline's: another number of weights begins from nowhere
    expect(opened(bentBatten(weights.slice(1), rest)).curve.closed).toBe(true);
  });

  it("refuses too few weights, two on one place, and an order that does not lead once round", () => {
    const weights = onCircle([0, 1, 2, 3, 4, 5], 0.2);
    expect(battenThrough(weights.slice(0, 3))).toMatchObject({ ok: false, reason: "too-few-points" });
    expect(battenThrough([...weights, weights[5]])).toMatchObject({ ok: false, reason: "points-coincide" });
    expect(battenThrough([...weights].reverse())).toMatchObject({ ok: false, reason: "weights-order" });
  });
});

describe("layBatten", () => {
  const outline = opened(outlineCurve(plainBody.outline));

  it("holds an outline from dimensions by its bouts, waists and both ends, within a tenth of a millimetre", () => {
    const unforced = opened(outlineCurve({ ...plainOutline, tailRadius: null, neckRadius: null }));
    expect(opened(layBatten(unforced.curve, unforced.length, 1e-4)).weights).toHaveLength(8);
    // radii that are forced on the curve take further weights beside both ends
    const laid = opened(layBatten(outline.curve, outline.length, 1e-4));
    expect(laid.gap).toBeLessThan(1e-4);
    const curve = opened(battenThrough(laid.weights));
    expect(apart(sampleCurve(outline.curve, 0.003), sampleCurve(curve, 0.001))).toBeLessThan(1.1e-4);
  });

  it("holds a circle by its six first weights, and an ellipse by more", () => {
    const hole = (semiAxes: readonly [number, number]) =>
      opened(holeCurve({ kind: "ellipse", centre: [0.3, 0], semiAxes, angle: 0.3 }));
    expect(opened(layBatten(hole([0.05, 0.05]), null, 1e-4)).weights).toHaveLength(6);
    const laid = opened(layBatten(hole([0.05, 0.03]), null, 1e-4));
    expect(laid.weights.length).toBeGreaterThan(6);
    expect(laid.gap).toBeLessThan(1e-4);
  });

  it("says how far it lies off when there are not weights enough", () => {
    const wavy = Float64Array.from({ length: 80 }, (_, i) => {
      const a = (2 * Math.PI * Math.floor(i / 2)) / 40;
      const r = 0.2 + 0.004 * Math.cos(10 * a);
      return i % 2 === 0 ? r * Math.cos(a) : r * Math.sin(a);
    });
    const curve = opened(holeCurve({ kind: "curve", points: wavy }));
    const laid = opened(layBatten(curve, null, 1e-4, 8));
    expect(laid.weights).toHaveLength(8);
    expect(laid.gap).toBeGreaterThan(1e-3);
  });
});

describe("shapedOutline", () => {
  it("tells an outline by points that bring it back within a tenth of a millimetre", () => {
    const shaped = opened(shapedOutline(plainBody.outline, null));
    const again = opened(outlineCurve({ kind: "points", points: shaped.points }));
    const gap = apart(sampleCurve(again.curve, 0.002), sampleCurve(shaped.plan.fullOutline, 0.0005));
    expect(gap).toBeLessThan(2e-5);
    expect(again.length).toBeCloseTo(shaped.plan.length, 6);
  });

  it("bends the same edge from weights that were laid along it", () => {
    const outline = opened(outlineCurve(plainBody.outline));
    const { weights } = opened(layBatten(outline.curve, outline.length, 1e-4));
    const shaped = opened(shapedOutline({ kind: "weights", weights }, null));
    expect(apart(shaped.full, sampleCurve(outline.curve, 0.0005))).toBeLessThan(1.1e-4);
    expect(shaped.plan.length).toBeCloseTo(outline.length, 6);
  });
});
