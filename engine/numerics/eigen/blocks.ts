/**
 * Kernels on BLOCKS of four long vectors, interleaved: entry i of vector c is at 4 i + c. Small 4 x 4 matrices are row by
 * row. Each loop keeps eight running sums or eight coefficients, which is what fits a scalar machine's registers.
 */
import type { SparseSymmetric } from "../sparse/symmetric.ts";

/** c := q' w (4 x 4): c[4 a + b] is the product of vector a of q with vector b of w. */
export function blockProducts(q: Float64Array, w: Float64Array, c: Float64Array): void {
  const end = q.length;
  for (let b = 0; b < 4; b += 2) {
    let s00 = 0;
    let s01 = 0;
    let s10 = 0;
    let s11 = 0;
    let s20 = 0;
    let s21 = 0;
    let s30 = 0;
    let s31 = 0;
    for (let i = 0; i < end; i = (i + 4) | 0) {
      const q0 = q[i];
      const q1 = q[(i + 1) | 0];
      const q2 = q[(i + 2) | 0];
      const q3 = q[(i + 3) | 0];
      const w0 = w[(i + b) | 0];
      const w1 = w[(i + b + 1) | 0];
      s00 += q0 * w0;
      s01 += q0 * w1;
      s10 += q1 * w0;
      s11 += q1 * w1;
      s20 += q2 * w0;
      s21 += q2 * w1;
      s30 += q3 * w0;
      s31 += q3 * w1;
    }
    c[b] = s00;
    c[b + 1] = s01;
    c[4 + b] = s10;
    c[5 + b] = s11;
    c[8 + b] = s20;
    c[9 + b] = s21;
    c[12 + b] = s30;
    c[13 + b] = s31;
  }
}

/** w := w - q c IN PLACE. */
export function subtractBlock(q: Float64Array, c: Float64Array, w: Float64Array): void {
  const end = q.length;
  for (let b = 0; b < 4; b += 2) {
    const c00 = c[b];
    const c01 = c[b + 1];
    const c10 = c[4 + b];
    const c11 = c[5 + b];
    const c20 = c[8 + b];
    const c21 = c[9 + b];
    const c30 = c[12 + b];
    const c31 = c[13 + b];
    for (let i = 0; i < end; i = (i + 4) | 0) {
      const q0 = q[i];
      const q1 = q[(i + 1) | 0];
      const q2 = q[(i + 2) | 0];
      const q3 = q[(i + 3) | 0];
      w[(i + b) | 0] -= q0 * c00 + q1 * c10 + (q2 * c20 + q3 * c30);
      w[(i + b + 1) | 0] -= q0 * c01 + q1 * c11 + (q2 * c21 + q3 * c31);
    }
  }
}

/** w := w t IN PLACE for an upper triangular 4 x 4 matrix t. */
export function transformBlock(w: Float64Array, t: Float64Array): void {
  const [t00, t01, t02, t03, , t11, t12, t13, , , t22, t23, , , , t33] = t;
  for (let i = 0; i < w.length; i += 4) {
    const w0 = w[i];
    const w1 = w[(i + 1) | 0];
    const w2 = w[(i + 2) | 0];
    w[i + 3] = w0 * t03 + w1 * t13 + (w2 * t23 + w[i + 3] * t33);
    w[i + 2] = w0 * t02 + w1 * t12 + w2 * t22;
    w[i + 1] = w0 * t01 + w1 * t11;
    w[i] = w0 * t00;
  }
}

/** y := A x for a block of four vectors. */
export function multiplyBlock(a: SparseSymmetric, x: Float64Array, y: Float64Array): void {
  const { n, colStart, rowIndex, values } = a;
  y.fill(0);
  for (let j = 0; j < n; j++) {
    let p = colStart[j];
    const end = colStart[j + 1];
    if (p === end) continue;
    const at = 4 * j;
    const x0 = x[at];
    const x1 = x[at + 1];
    const x2 = x[at + 2];
    const x3 = x[at + 3];
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    if (rowIndex[p] === j) {
      const v = values[p++];
      s0 = v * x0;
      s1 = v * x1;
      s2 = v * x2;
      s3 = v * x3;
    }
    for (; p < end; p = (p + 1) | 0) {
      const i = rowIndex[p] << 2;
      const v = values[p];
      s0 += v * x[i];
      s1 += v * x[(i + 1) | 0];
      s2 += v * x[(i + 2) | 0];
      s3 += v * x[(i + 3) | 0];
      y[i] += v * x0;
      y[(i + 1) | 0] += v * x1;
      y[(i + 2) | 0] += v * x2;
      y[(i + 3) | 0] += v * x3;
    }
    y[at] += s0;
    y[at + 1] += s1;
    y[at + 2] += s2;
    y[at + 3] += s3;
  }
}
