import type { Triple } from "./bodySpec.ts";

/**
 * 6 x 6 mass matrix about a point of a rigid box of given mass and edges along x, y, z, its centre at `arm` from the
 * point (translations x y z, then rotations): u = U + Theta x r, own moments m (b2 + c2) / 12.
 */
export function rigidMass(mass: number, arm: Triple, size: Triple): Float64Array {
  const m = new Float64Array(36);
  const [x, y, z] = arm;
  // rows: displacement of the centre per motion of the point
  const g = [
    [1, 0, 0, 0, z, -y],
    [0, 1, 0, -z, 0, x],
    [0, 0, 1, y, -x, 0],
  ];
  for (const row of g)
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) m[6 * i + j] += mass * row[i] * row[j];
  const [a, b, c] = size.map((v) => (mass * v * v) / 12);
  m[21] += b + c;
  m[28] += a + c;
  m[35] += a + b;
  return m;
}
