/** Integration over triangles. */
import { gaussLegendre } from "./gaussLegendre.ts";

/** points: three barycentric coordinates for each point; weights sum to 1: integral = area x sum of weight x value. */
export interface TriangleRule {
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

/**
 * A rule exact for polynomials up to the given order (degree). Up to order 6 symmetric with positive weights inside the
 * triangle (1, 3, 6, 7, 12 points); above, the Gauss product rule on the square with one side shrunk to a corner.
 * Source: D. A. Dunavant, Int. J. Numer. Methods Eng. 21 (1985) 1129, quoted from memory; exactness is tested.
 */
export function triangleRule(order: number): TriangleRule {
  if (order <= 1) return fromOrbits([{ a: 1 / 3, b: 1 / 3, weight: 1 / 3 }]);
  if (order <= 2) return fromOrbits([{ a: 2 / 3, b: 1 / 6, weight: 1 / 3 }]);
  if (order <= 4) {
    const root = Math.sqrt(10);
    const inner = Math.sqrt(38 - 44 * Math.sqrt(0.4));
    const weightTerm = Math.sqrt(213125 - 53320 * root);
    const b1 = (8 - root + inner) / 18;
    const b2 = (8 - root - inner) / 18;
    return fromOrbits([
      { a: 1 - 2 * b1, b: b1, weight: (620 + weightTerm) / 3720 },
      { a: 1 - 2 * b2, b: b2, weight: (620 - weightTerm) / 3720 },
    ]);
  }
  if (order <= 5) {
    const root = Math.sqrt(15);
    return fromOrbits([
      { a: 1 / 3, b: 1 / 3, weight: 0.225 / 3 },
      { a: (9 + 2 * root) / 21, b: (6 - root) / 21, weight: (155 - root) / 1200 },
      { a: (9 - 2 * root) / 21, b: (6 + root) / 21, weight: (155 + root) / 1200 },
    ]);
  }
  if (order <= 6) {
    return fromOrbits([
      { a: 0.501426509658179, b: 0.24928674517091, weight: 0.116786275726379 },
      { a: 0.873821971016996, b: 0.063089014491502, weight: 0.050844906370207 },
      { a: 0.053145049844817, b: 0.310352451033784, weight: 0.082851075618374 },
    ]);
  }
  return collapsedSquare(order);
}

/** Expands orbits (a, b, 1-a-b): one point at the centre, three when two coordinates agree, else six. */
function fromOrbits(orbits: readonly { a: number; b: number; weight: number }[]): TriangleRule {
  const points: number[] = [];
  const weights: number[] = [];
  for (const { a, b, weight } of orbits) {
    const c = 1 - a - b;
    if (a === b) {
      points.push(a, b, c);
      weights.push(3 * weight);
      continue;
    }
    const turns = [
      [a, b, c],
      [c, a, b],
      [b, c, a],
    ];
    const mirrored = [
      [a, c, b],
      [b, a, c],
      [c, b, a],
    ];
    for (const point of Math.abs(b - c) < 1e-9 ? turns : [...turns, ...mirrored]) {
      points.push(...point);
      weights.push(weight);
    }
  }
  return { points: Float64Array.from(points), weights: Float64Array.from(weights) };
}

function collapsedSquare(order: number): TriangleRule {
  const along = gaussLegendre(Math.ceil((order + 1) / 2));
  const towards = gaussLegendre(Math.ceil((order + 2) / 2)); // the shrinking side raises the degree by one
  const points: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < towards.points.length; i++) {
    const u = 0.5 * (1 + towards.points[i]);
    for (let j = 0; j < along.points.length; j++) {
      const v = 0.5 * (1 + along.points[j]) * (1 - u);
      points.push(u, v, 1 - u - v);
      weights.push(0.5 * towards.weights[i] * along.weights[j] * (1 - u));
    }
  }
  return { points: Float64Array.from(points), weights: Float64Array.from(weights) };
}
