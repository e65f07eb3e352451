import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { selfCrossings } from "./crossings.ts";
import { type Polygon, polygonArea, polygonPerimeter, polylineLength, reversedPolygon } from "./polygon.ts";
import { polygonDifference, polygonIntersection } from "./polygonCut.ts";

const square = Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2);
const snap = 1e-9;

function total(rings: readonly Polygon[]): number {
  return rings.reduce((sum, ring) => sum + polygonArea(ring), 0);
}

describe("taking one polygon off another", () => {
  it("bites a corner off", () => {
    const cut = polygonDifference(square, Float64Array.of(1, 1, 3, 1, 3, 3, 1, 3), snap);
    expect(total(cut.pieces)).toBeCloseTo(3, 12);
    expect(cut.hole).toBeNull();
    expect(total(cut.shared)).toBeCloseTo(1, 12);
    expect(cut.lostEdge).toHaveLength(1);
    expect(polylineLength(cut.lostEdge[0])).toBeCloseTo(2, 12);
  });

  it("keeps a hole that lies inside as a hole", () => {
    const inner = Float64Array.of(0.5, 0.5, 0.5, 1, 1, 1, 1, 0.5);
    const cut = polygonDifference(square, inner, snap);
    expect(cut.pieces).toEqual([square]);
    expect(polygonArea(cut.hole!)).toBe(0.25);
    expect(cut.lostEdge).toEqual([]);
  });

  it("leaves nothing under a larger one, everything beside a distant one, two pieces under a bar", () => {
    expect(polygonDifference(square, Float64Array.of(-1, -1, 3, -1, 3, 3, -1, 3), snap).pieces).toEqual([]);
    const far = polygonDifference(square, Float64Array.of(5, 5, 6, 5, 6, 6), snap);
    expect(far.pieces).toEqual([square]);
    expect(far.shared).toEqual([]);
    const bar = polygonDifference(square, Float64Array.of(-1, 0.5, 3, 0.5, 3, 1, -1, 1), snap);
    expect(bar.pieces.map(polygonArea).sort()).toEqual([1, 2]);
    expect(bar.lostEdge).toHaveLength(2);
  });

  it("counts a touch as a crossing: tangent edge, shared edge, corner on an edge", () => {
    const reach = 1e-3;
    for (const [other, area] of [
      [Float64Array.of(1, 1, 2, 1, 2, 1.5, 1, 1.5), 3.5],
      [Float64Array.of(0, 0, 1, 0, 1, 1, 0, 1), 3],
      [Float64Array.of(1, 0.5, 2, 1, 1, 1.5), 3.5],
      [Float64Array.of(1, 1, 3, -1, 3, 3), 3],
    ] as const) {
      const cut = polygonDifference(square, other, reach);
      expect(cut.hole).toBeNull();
      expect(cut.lostEdge.length).toBeGreaterThan(0);
      expect(Math.abs(total(cut.pieces) - area)).toBeLessThan(8 * reach);
    }
  });

  it("splits areas exactly: what is left and what is shared make up the whole, in either sense", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1.4, max: 1.4, noNaN: true }),
        fc.double({ min: -1.4, max: 1.4, noNaN: true }),
        fc.double({ min: 0.2, max: 1.6, noNaN: true }),
        fc.integer({ min: 3, max: 40 }),
        fc.constantFrom(1e-3, 1, 1e3),
        (cx, cy, radius, n, scale) => {
          const ring = (x: number, y: number, r: number, sides: number, wobble: number): Polygon =>
            Float64Array.from({ length: 2 * sides }, (_, k) => {
              const angle = (2 * Math.PI * (k >> 1)) / sides + 0.1;
              const at = r * (1 + wobble * Math.sin(5 * angle));
              return scale * (k % 2 === 0 ? x + at * Math.cos(angle) : y + at * Math.sin(angle));
            });
          const a = ring(0, 0, 1, 50, 0.2);
          const b = ring(cx, cy, radius, n, 0.1);
          const reach = 1e-7 * scale;
          for (const other of [b, reversedPolygon(b)]) {
            const cut = polygonDifference(a, other, reach);
            const left = total(cut.pieces) - (cut.hole === null ? 0 : polygonArea(cut.hole));
            const allowed = 4 * reach * (polygonPerimeter(a) + polygonPerimeter(b));
            expect(Math.abs(left + total(cut.shared) - polygonArea(a))).toBeLessThan(allowed);
            for (const piece of cut.pieces) expect(selfCrossings(piece)).toEqual([]);
          }
        },
      ),
      { seed: 23, numRuns: 300 },
    );
  });

  it("shares the same area whichever comes first", () => {
    const disc = Float64Array.from({ length: 80 }, (_, k) => {
      const angle = (2 * Math.PI * (k >> 1)) / 40;
      return 1.5 + (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
    });
    const one = total(polygonIntersection(square, disc, snap));
    expect(one).toBeGreaterThan(1);
    expect(total(polygonIntersection(disc, square, snap))).toBeCloseTo(one, 12);
  });
});
