import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { OutlineDimensions } from "./bodySpec.ts";
import { selfCrossings } from "./crossings.ts";
import { curveCurvature, curveParameters, curvePoint, type PlaneCurve, sampleCurve } from "./curve.ts";
import { landmarks } from "./landmarks.ts";
import { outlineCurve } from "./outline.ts";
import { plainOutline } from "./plan.fixture.ts";
import { polygonArea } from "./polygon.ts";

/** Half width of the outline at a station, on the side where y has this sign, from a fine polygon. */
function halfWidth(curve: PlaneCurve, station: number, sign: number): number {
  const p = sampleCurve(curve, 0.0005);
  let widest = 0;
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    if (sign * p[i + 1] < 0 || p[i] > station === p[j] > station) continue;
    const f = (station - p[i]) / (p[j] - p[i]);
    widest = Math.max(widest, sign * (p[i + 1] + f * (p[j + 1] - p[i + 1])));
  }
  return widest;
}

describe("an outline from trade dimensions", () => {
  it("has the stated widths at their stations, and nowhere wider or narrower beside them", () => {
    const { curve } = opened(outlineCurve(plainOutline));
    for (const sign of [-1, 1]) {
      for (const place of ["lowerBout", "waist", "upperBout"] as const) {
        const { width, station } = plainOutline[place];
        expect(Math.abs(2 * halfWidth(curve, station, sign) - width)).toBeLessThan(5e-5);
        const narrows = place === "waist" ? 1 : -1;
        for (const beside of [-0.004, 0.004]) {
          expect(narrows * (halfWidth(curve, station + beside, sign) - width / 2)).toBeGreaterThan(0);
        }
      }
    }
  });

  it("starts at the tail, is anticlockwise, ends its half at the neck, and has the stated end radii", () => {
    const { curve, length, neckEnd } = opened(outlineCurve(plainOutline));
    expect(curvePoint(curve, 0)).toEqual([0, 0]);
    expect(polygonArea(sampleCurve(curve, 0.005))).toBeGreaterThan(0.1);
    expect(curvePoint(curve, neckEnd)[0]).toBeCloseTo(length, 12);
    expect(curvePoint(curve, neckEnd)[1]).toBeCloseTo(0, 12);
    expect(1 / curveCurvature(curve, 0)).toBeCloseTo(0.45, 9);
    expect(1 / curveCurvature(curve, neckEnd)).toBeCloseTo(0.3, 9);
  });

  it("is convex at the bouts and hollow at the waist: four inflections in all", () => {
    const { curve } = opened(outlineCurve(plainOutline));
    const signs = curveParameters(curve, 0.002).map((t) => curveCurvature(curve, t) > 0);
    expect(signs.filter((sign, i) => sign !== signs[(i + 1) % signs.length])).toHaveLength(4);
  });

  it("is its own mirror image when no asymmetry is asked for", () => {
    const { curve } = opened(outlineCurve(plainOutline));
    const whole = curve.knots[curve.knots.length - 1];
    for (let i = 0; i < 50; i++) {
      const [x, y] = curvePoint(curve, (i / 50) * whole);
      const [u, v] = curvePoint(curve, whole - (i / 50) * whole);
      expect(Math.hypot(x - u, y + v)).toBeLessThan(1e-9);
    }
  });

  it("moves stations and widths of one side only when told so", () => {
    const asymmetry = { bass: { waist: { along: 0.012 } }, treble: { lowerBout: { outward: -0.006 } } };
    const { curve, length } = opened(outlineCurve({ ...plainOutline, asymmetry }));
    const marks = landmarks(curve, length);
    expect(curvePoint(curve, marks.left!.waist)[0]).toBeCloseTo(0.307, 3);
    expect(curvePoint(curve, marks.right!.waist)[0]).toBeCloseTo(0.295, 3);
    expect(curvePoint(curve, marks.right!.lowerBout)[1]).toBeCloseTo(-0.194, 5);
    expect(curvePoint(curve, marks.left!.lowerBout)[1]).toBeCloseTo(0.2, 5);
  });

  it("keeps its shape at a thousandth and a thousand times the size", () => {
    const { curve } = opened(outlineCurve(plainOutline));
    for (const scale of [1e-3, 1e3]) {
      const sized = (w: { width: number; station: number }) => ({
        width: scale * w.width,
        station: scale * w.station,
      });
      const spec: OutlineDimensions = {
        kind: "dimensions",
        length: scale * plainOutline.length,
        lowerBout: sized(plainOutline.lowerBout),
        waist: sized(plainOutline.waist),
        upperBout: sized(plainOutline.upperBout),
        tailRadius: scale * 0.45,
        neckRadius: scale * 0.3,
      };
      const other = opened(outlineCurve(spec)).curve;
      const whole = curve.knots[curve.knots.length - 1];
      for (let i = 0; i < 20; i++) {
        const [x, y] = curvePoint(curve, (i / 20) * whole);
        const [u, v] = curvePoint(other, (i / 20) * whole * scale);
        expect(Math.hypot(x - u / scale, y - v / scale)).toBeLessThan(1e-8);
      }
    }
  });

  it("is simple, convex at its ends and exact for any guitar a maker might draw (fuzz)", () => {
    const share = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        share(0.44, 0.53),
        share(0.72, 0.84),
        share(0.6, 0.8),
        share(0.68, 0.85),
        share(0.28, 0.34),
        share(0.56, 0.62),
        share(0.78, 0.83),
        fc.constantFrom(null, 0.4, 0.7),
        (length, lower, waist, upper, s1, s2, s3, tailRadius) => {
          const spec: OutlineDimensions = {
            kind: "dimensions",
            length,
            lowerBout: { width: lower * length, station: s1 * length },
            waist: { width: Math.min(waist, 0.92 * upper) * lower * length, station: s2 * length },
            upperBout: { width: upper * lower * length, station: s3 * length },
            tailRadius,
            neckRadius: null,
          };
          const { curve } = opened(outlineCurve(spec));
          expect(selfCrossings(sampleCurve(curve, 0.004))).toEqual([]);
          for (const { width, station } of [spec.lowerBout, spec.waist, spec.upperBout]) {
            expect(Math.abs(halfWidth(curve, station, 1) - width / 2)).toBeLessThan(2.5e-5);
          }
        },
      ),
      { seed: 24, numRuns: 60 },
    );
  });

  it("refuses stations out of order, a waist wider than a bout and radii below zero, and says where", () => {
    const detail = (change: Partial<OutlineDimensions>): string => {
      const made = outlineCurve({ ...plainOutline, ...change });
      return made.ok ? "ok" : `${made.reason}: ${made.detail}`;
    };
    expect(detail({ waist: { width: 0.25, station: 0.42 } })).toMatch(
      /^dimensions: stations must rise.*treble/,
    );
    expect(detail({ waist: { width: 0.3, station: 0.295 } })).toMatch(
      /^dimensions: the waist must be narrower/,
    );
    expect(detail({ tailRadius: -1 })).toMatch(/^dimensions: an end radius is -1/);
    expect(detail({ length: Number.NaN })).toMatch(/^dimensions/);
  });
});

describe("an outline through points", () => {
  it("passes every point, whichever way they run and wherever they start", () => {
    const { curve } = opened(outlineCurve(plainOutline));
    const points = sampleCurve(curve, 0.02);
    const n = points.length / 2;
    const area = polygonArea(sampleCurve(curve, 0.001));
    for (const order of [(i: number) => i, (i: number) => (n - i) % n, (i: number) => (i + 17) % n]) {
      const given = Float64Array.from({ length: 2 * n }, (_, k) => points[2 * order(k >> 1) + (k % 2)]);
      const drawn = opened(outlineCurve({ kind: "points", points: given }));
      expect(drawn.length).toBeCloseTo(0.505, 5);
      expect(Math.hypot(...curvePoint(drawn.curve, 0))).toBeLessThan(1e-5);
      expect(Math.abs(polygonArea(sampleCurve(drawn.curve, 0.001)) / area - 1)).toBeLessThan(2e-4);
    }
  });

  it("warns when the tail is not at the origin, refuses a shape beside the centreline", () => {
    const disc = (x: number, y: number): Float64Array =>
      Float64Array.from({ length: 40 }, (_, k) => {
        const angle = (Math.PI * (k >> 1)) / 10;
        return k % 2 === 0 ? x + 0.2 * Math.cos(angle) : y + 0.2 * Math.sin(angle);
      });
    const off = outlineCurve({ kind: "points", points: disc(0.25, 0) });
    expect(off.ok && off.warnings.map((w) => w.code)).toEqual(["tail-off-origin"]);
    const beside = outlineCurve({ kind: "points", points: disc(0.2, 0.5) });
    expect(beside.ok ? "ok" : beside.reason).toBe("not-across-centreline");
  });
});
