/** From the Lanczos space back to vectors of full length. */
import type { LanczosSpace } from "./blockLanczos.ts";

/**
 * Ritz vectors of the `count` largest Ritz values: x = Q s + Q_next R s_last / theta, which is A Q s / theta. This one
 * free application of A removes what rounding has put into the null space of a singular M, and sharpens the vector.
 * s: eigenvectors of T, m apart, ascending, so the last ones are wanted; theta: their values. Returns count x n, the
 * largest value first, not normalised, unknown i taken from row positionOf[i] of the basis. Source: Nour-Omid, Parlett, Ericsson and Jensen, Math. Comp. 48 (1987) 663.
 */
export function ritzVectors(
  space: LanczosSpace,
  theta: Float64Array,
  s: Float64Array,
  count: number,
  positionOf: Uint32Array,
): Float64Array {
  const { basis, size, coupling } = space;
  const blocks = Math.min(basis.length, size / 4 + 1);
  const depth = 4 * blocks;
  const n = basis[0].length / 4;
  const coefficients = new Float64Array((count + 1) * depth); // one row of zeros to spare for the last pair
  for (let mode = 0; mode < count; mode++) {
    const from = (size - 1 - mode) * size;
    const to = mode * depth;
    for (let i = 0; i < size; i++) coefficients[to + i] = s[from + i];
    if (depth === size) continue;
    for (let i = 0; i < 4; i++) {
      let sum = 0;
      for (let k = i; k < 4; k++) sum += coupling[4 * i + k] * s[from + size - 4 + k];
      coefficients[to + size + i] = sum / theta[size - 1 - mode];
    }
  }
  const vectors = new Float64Array(count * n);
  const strip = new Float64Array(4 * depth); // four rows of Q, column by column
  for (let row = 0; row < n; row += 4) {
    const rows = Math.min(4, n - row);
    for (let b = 0; b < blocks; b++) {
      const q = basis[b];
      for (let i = 0; i < rows; i++) {
        const from = positionOf[row + i] << 2;
        const to = 16 * b + i;
        strip[to] = q[from];
        strip[to + 4] = q[from + 1];
        strip[to + 8] = q[from + 2];
        strip[to + 12] = q[from + 3];
      }
    }
    for (let mode = 0; mode < count; mode += 2) {
      let a0 = 0;
      let a1 = 0;
      let a2 = 0;
      let a3 = 0;
      let b0 = 0;
      let b1 = 0;
      let b2 = 0;
      let b3 = 0;
      const first = mode * depth;
      const second = first + depth;
      for (let k = 0, p = 0; k < depth; k = (k + 1) | 0, p = (p + 4) | 0) {
        const u = coefficients[(first + k) | 0];
        const v = coefficients[(second + k) | 0];
        const p0 = strip[p];
        const p1 = strip[(p + 1) | 0];
        const p2 = strip[(p + 2) | 0];
        const p3 = strip[(p + 3) | 0];
        a0 += p0 * u;
        a1 += p1 * u;
        a2 += p2 * u;
        a3 += p3 * u;
        b0 += p0 * v;
        b1 += p1 * v;
        b2 += p2 * v;
        b3 += p3 * v;
      }
      store(vectors, mode * n + row, rows, a0, a1, a2, a3);
      if (mode + 1 < count) store(vectors, (mode + 1) * n + row, rows, b0, b1, b2, b3);
    }
  }
  return vectors;
}

function store(
  x: Float64Array,
  at: number,
  rows: number,
  v0: number,
  v1: number,
  v2: number,
  v3: number,
): void {
  x[at] = v0;
  if (rows > 1) x[at + 1] = v1;
  if (rows > 2) x[at + 2] = v2;
  if (rows > 3) x[at + 3] = v3;
}
