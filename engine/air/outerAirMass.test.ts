import { describe, expect, it } from "vitest";
import { airProperties } from "./airProperties.ts";
import { outerAirMass } from "./outerAirMass.ts";

const air = airProperties({ temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 });

/** A square plate of n x n cells, side 0.3 m, with the motions 1, x and y. */
function plate(n: number, angle = 0) {
  const nodes: number[] = [];
  const triangles: number[] = [];
  const motion: number[][] = [[], [], []];
  for (let j = 0; j <= n; j++) {
    for (let i = 0; i <= n; i++) {
      const [x, y] = [(0.3 * i) / n - 0.15, (0.3 * j) / n - 0.15];
      nodes.push(x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle), 0);
      motion[0].push(1);
      motion[1].push(x);
      motion[2].push(y);
    }
  }
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const a = j * (n + 1) + i;
      triangles.push(a, a + 1, a + n + 2, a, a + n + 2, a + n + 1);
    }
  }
  return {
    nodes: Float64Array.from(nodes),
    triangles: Uint32Array.from(triangles),
    count: 3,
    motion: Float64Array.from(motion.flat()),
  };
}

describe("outerAirMass", () => {
  it("is symmetric, positive, and keeps even and odd motions apart", () => {
    const m = outerAirMass(plate(12), null, air);
    expect(m[1]).toBe(m[3]);
    expect(m[0]).toBeGreaterThan(0);
    expect(Math.abs(m[1])).toBeLessThan(1e-3 * Math.sqrt(m[0] * m[4]));
    expect(m[4] / m[8]).toBeCloseTo(1, 6);
  });

  it("does not care how fine the mesh is or how the plate lies in the plane", () => {
    const m = outerAirMass(plate(12), null, air);
    expect(outerAirMass(plate(30), null, air)[0] / m[0]).toBeCloseTo(1, 2);
    expect(outerAirMass(plate(12, 0.4), null, air)[0] / m[0]).toBeCloseTo(1, 2);
    expect(outerAirMass(plate(12, 0.4), null, air)[4] / m[4]).toBeCloseTo(1, 1);
  });

  it("couples a far unit flow as rho/(2 pi r) times the plate's volume, and leaves the flow's own mass out", () => {
    const m = outerAirMass(
      plate(12),
      { points: Float64Array.from([3, 0]), strength: Float64Array.from([1]) },
      air,
    );
    expect(m[3] / ((air.density / (2 * Math.PI * 3)) * 0.09)).toBeCloseTo(1, 2);
    expect(m[15]).toBe(0);
  });
});
