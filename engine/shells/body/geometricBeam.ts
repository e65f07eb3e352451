import { frameAxes } from "./frameLine.ts";

/** Gauss points and weights on 0 to 1, exact to the fifth degree. */
const at = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const weight = [5 / 18, 8 / 18, 5 / 18] as const;

/**
 * Geometric stiffness of a straight beam element under the axial force N (tension positive), 12 x 12 over ux uy uz rx ry
 * rz of both ends: int N v'.v' ds with the deflections of beamElement.ts (Timoshenko, phi = 12 EI / (GA L2), 0 if rigid in
 * shear) up and across, linear along. For phi = 0 the two bending planes are the textbook matrix
 *   N / (30 L) [36, 3L, -36, 3L; 4L2, -3L, -L2; ...]   (Przemieniecki 1968, from memory)
 */
export function geometricBeam(
  from: ArrayLike<number>,
  to: ArrayLike<number>,
  force: number,
  phiUp: number,
  phiAcross: number,
): Float64Array {
  const { along, across, up, length } = frameAxes(from, to);
  const out = new Float64Array(144);
  const row = new Float64Array(12);
  const add = (w: number): void => {
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) out[12 * i + j] += ((w * force) / length) * row[i] * row[j];
  };
  for (let g = 0; g < 3; g++) {
    const xi = at[g];
    row.fill(0);
    for (let k = 0; k < 3; k++) {
      row[k] = -along[k];
      row[6 + k] = along[k];
    }
    add(weight[g]);
    for (const [d, turn, sign, phi] of [
      [up, across, -1, phiUp],
      [across, up, 1, phiAcross],
    ] as const) {
      // derivatives over xi of xi (1 - xi) and of -f xi (1 - xi)(1 - 2 xi)
      const bubble = 1 - 2 * xi;
      const c = -(1 - 6 * xi + 6 * xi * xi) / (1 + phi);
      row.fill(0);
      for (let k = 0; k < 3; k++) {
        row[k] = (-1 - c) * d[k];
        row[6 + k] = (1 + c) * d[k];
        row[3 + k] = ((sign * length) / 2) * (bubble - c) * turn[k];
        row[9 + k] = ((sign * length) / 2) * (-bubble - c) * turn[k];
      }
      add(weight[g]);
    }
  }
  return out;
}
