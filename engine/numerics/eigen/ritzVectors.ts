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
  const sums = new Float64Array(8);
  // Sixteen rows of Q at a time, in strips of four, column by column: they stay in the fastest cache for all modes.
  const strips = new Float64Array(16 * depth);
  for (let row = 0; row < n; row += 16) {
    const rows = Math.min(16, n - row);
    for (let b = 0; b < blocks; b++) {
      const q = basis[b];
      for (let i = 0; i < rows; i++) {
        const from = positionOf[row + i] << 2;
        const to = (i >> 2) * 4 * depth + 16 * b + (i & 3);
        strips[to] = q[from];
        strips[to + 4] = q[from + 1];
        strips[to + 8] = q[from + 2];
        strips[to + 12] = q[from + 3];
      }
    }
    for (let mode = 0; mode < count; mode += 2) {
      for (let i = 0; i < rows; i += 4) {
        const four = Math.min(4, rows - i);
        twoModes(strips, i * depth, coefficients, mode * depth, depth, sums);
        for (let k = 0; k < four; k++) vectors[mode * n + row + i + k] = sums[k];
        if (mode + 1 === count) continue;
        for (let k = 0; k < four; k++) vectors[(mode + 1) * n + row + i + k] = sums[4 + k];
      }
    }
  }
  return vectors;
}

/** sums: four rows of Q times the coefficients of one mode, then times those of the next. */
function twoModes(
  strips: Float64Array,
  strip: number,
  coefficients: Float64Array,
  first: number,
  depth: number,
  sums: Float64Array,
): void {
  const second = first + depth;
  let a0 = 0;
  let a1 = 0;
  let a2 = 0;
  let a3 = 0;
  let b0 = 0;
  let b1 = 0;
  let b2 = 0;
  let b3 = 0;
  for (let k = 0, p = strip; k < depth; k = (k + 1) | 0, p = (p + 4) | 0) {
    const u = coefficients[(first + k) | 0];
    const v = coefficients[(second + k) | 0];
    const p0 = strips[p];
    const p1 = strips[(p + 1) | 0];
    const p2 = strips[(p + 2) | 0];
    const p3 = strips[(p + 3) | 0];
    a0 += p0 * u;
    a1 += p1 * u;
    a2 += p2 * u;
    a3 += p3 * u;
    b0 += p0 * v;
    b1 += p1 * v;
    b2 += p2 * v;
    b3 += p3 * v;
  }
  sums[0] = a0;
  sums[1] = a1;
  sums[2] = a2;
  sums[3] = a3;
  sums[4] = b0;
  sums[5] = b1;
  sums[6] = b2;
  sums[7] = b3;
}
