import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  anticlockwise,
  distanceToPolyline,
  nearestOnPolyline,
  type Polygon,
  pointInPolygon,
  pointInRegion,
  polygonArea,
  polygonBounds,
  polygonCentroid,
  polygonPerimeter,
  reversedPolygon,
} from "./polygon.ts";

const square = Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2);
const ell = Float64Array.of(0, 0, 3, 0, 3, 1, 1, 1, 1, 3, 0, 3);

/** Turned by an angle, scaled and shifted. */
function placed(p: Polygon, angle: number, scale: number, dx: number, dy: number): Polygon {
  const out = new Float64Array(p.length);
  for (let i = 0; i < p.length; i += 2) {
    out[i] = dx + scale * (Math.cos(angle) * p[i] - Math.sin(angle) * p[i + 1]);
    out[i + 1] = dy + scale * (Math.sin(angle) * p[i] + Math.cos(angle) * p[i + 1]);
  }
  return out;
}

describe("polygons", () => {
  it("have the area, centroid and perimeter worked by hand", () => {
    expect(polygonArea(square)).toBe(4);
    expect(polygonCentroid(square)).toEqual([1, 1]);
    expect(polygonPerimeter(square)).toBe(8);
    // An ell of a 3 x 1 foot and a 1 x 2 post: area 5, moments 3 x (1.5, 0.5) + 2 x (0.5, 2).
    expect(polygonArea(ell)).toBe(5);
    expect(polygonCentroid(ell)[0]).toBeCloseTo(1.1, 14);
    expect(polygonCentroid(ell)[1]).toBeCloseTo(1.1, 14);
    expect(polygonBounds(ell)).toEqual([0, 0, 3, 3]);
  });

  it("change the sign of their area with their sense, and nothing else", () => {
    const back = reversedPolygon(ell);
    expect(polygonArea(back)).toBe(-5);
    expect(polygonCentroid(back)[0]).toBeCloseTo(1.1, 14);
    expect([back[0], back[1]]).toEqual([ell[0], ell[1]]);
    expect(anticlockwise(back)).toEqual(ell);
  });

  it("keep area and perimeter when turned, shifted and scaled by 1e-3 to 1e3", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -7, max: 7, noNaN: true }),
        fc.constantFrom(1e-3, 0.1, 1, 1e3),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (angle, scale, shift) => {
          const p = placed(ell, angle, scale, shift * scale, -shift * scale);
          expect(Math.abs(polygonArea(p) / (5 * scale * scale) - 1)).toBeLessThan(1e-12);
          expect(Math.abs(polygonPerimeter(p) / (12 * scale) - 1)).toBeLessThan(1e-12);
        },
      ),
      { seed: 20, numRuns: 100 },
    );
  });

  it("tell inside from outside", () => {
    expect(pointInPolygon(ell, 0.5, 2.5)).toBe(true);
    expect(pointInPolygon(ell, 2, 2)).toBe(false);
    expect(
      pointInRegion({ outline: square, holes: [Float64Array.of(0.5, 0.5, 1, 0.5, 1, 1)] }, 0.9, 0.6),
    ).toBe(false);
    expect(
      pointInRegion({ outline: square, holes: [Float64Array.of(0.5, 0.5, 1, 0.5, 1, 1)] }, 1.5, 0.6),
    ).toBe(true);
  });

  it("find the nearest place on a chain and on a closed edge", () => {
    expect(distanceToPolyline(square, -1, 1)).toBeCloseTo(Math.SQRT2, 14);
    const near = nearestOnPolyline(square, -1, 1, true);
    expect(near.distance).toBe(1);
    expect(near.edge).toBe(3);
    expect(near.point).toEqual([0, 1]);
  });
});
