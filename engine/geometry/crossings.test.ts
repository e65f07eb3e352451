import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "#engine/numerics";
import { clipSegment, polygonCrossings, selfCrossings } from "./crossings.ts";

const square = Float64Array.of(0, 0, 2, 0, 2, 2, 0, 2);

describe("crossings", () => {
  it("finds where a figure of eight crosses itself", () => {
    const eight = Float64Array.of(0, 0, 2, 2, 2, 0, 0, 2);
    const places = selfCrossings(eight);
    expect(places).toHaveLength(1);
    expect(places[0][0]).toBeCloseTo(1, 14);
    expect(places[0][1]).toBeCloseTo(1, 14);
  });

  it("finds none on a simple polygon, however it is turned or scaled", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        fc.constantFrom(1e-3, 1, 1e3),
        fc.integer({ min: 5, max: 60 }),
        (angle, scale, n) => {
          // A star about the origin is simple whatever its radii.
          const star = Float64Array.from({ length: 2 * n }, (_, k) => {
            const i = k >> 1;
            const radius = scale * (1 + 0.6 * Math.sin(7.3 * i));
            const turn = angle + (2 * Math.PI * i) / n;
            return radius * (k % 2 === 0 ? Math.cos(turn) : Math.sin(turn));
          });
          expect(selfCrossings(star)).toEqual([]);
        },
      ),
      { seed: 21, numRuns: 100 },
    );
  });

  it("agrees with trying every pair of edges", () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 4, max: 14 }), (seed, points) => {
        const random = seededRandom(seed);
        const p = Float64Array.from({ length: 2 * points }, random);
        const n = p.length / 2;
        let pairs = 0;
        for (let i = 0; i < n; i++) {
          for (let j = i + 2; j < n; j++) {
            if (i === 0 && j === n - 1) continue;
            const edge = (k: number): Float64Array =>
              Float64Array.of(p[2 * k], p[2 * k + 1], p[(2 * k + 2) % p.length], p[(2 * k + 3) % p.length]);
            pairs += openEdgesCross(edge(i), edge(j)) ? 1 : 0;
          }
        }
        expect(selfCrossings(p)).toHaveLength(pairs);
      }),
      { seed: 22, numRuns: 200 },
    );
  });

  it("counts the crossings of two squares", () => {
    const other = Float64Array.of(1, 1, 3, 1, 3, 3, 1, 3);
    const places = polygonCrossings(square, other).map((c) => c.point);
    expect(places).toEqual([
      [2, 1],
      [1, 2],
    ]);
  });

  it("clips a segment to the outline and cuts the hole out of it", () => {
    const hole = Float64Array.of(0.5, 0.5, 1, 0.5, 1, 1.5, 0.5, 1.5);
    expect(clipSegment(square, [hole], [-1, 1], [3, 1])).toEqual([
      [1, 1.5],
      [2, 3],
    ]);
    expect(clipSegment(square, [], [0.5, 1], [1.5, 1])).toEqual([[0, 1]]);
    expect(clipSegment(square, [], [-1, 3], [3, 3])).toEqual([]);
    expect(clipSegment(square, [], [1, 1], [1, 1])).toEqual([]);
  });
});

/** Orientation test, written apart from the code it checks. */
function openEdgesCross(a: Float64Array, b: Float64Array): boolean {
  const side = (p: Float64Array, x: number, y: number): number =>
    Math.sign((p[2] - p[0]) * (y - p[1]) - (p[3] - p[1]) * (x - p[0]));
  return side(a, b[0], b[1]) * side(a, b[2], b[3]) < 0 && side(b, a[0], a[1]) * side(b, a[2], a[3]) < 0;
}
