/** Making a block of four vectors orthonormal in the product x' M y. */
import { blockProducts, transformBlock } from "./blocks.ts";

/**
 * w := w R^-1 and mw := mw R^-1 IN PLACE, where w' mw = R' R; r (4 x 4) receives the upper triangular R, so the old w is
 * the new w times R. A column whose rest after the columns before it is below `floor` counts as vanished: it becomes
 * zero and so does its diagonal entry of R. Returns the smallest share |rest|^2 / |column|^2 of the columns kept: where
 * it is small, digits were lost and the caller should repeat.
 */
export function normaliseBlock(w: Float64Array, mw: Float64Array, r: Float64Array, floor: number): number {
  const gram = new Float64Array(16);
  blockProducts(w, mw, gram);
  r.fill(0);
  let smallestShare = 1;
  for (let j = 0; j < 4; j++) {
    for (let i = 0; i < j; i++) {
      if (r[5 * i] === 0) continue;
      let sum = 0.5 * (gram[4 * i + j] + gram[4 * j + i]);
      for (let k = 0; k < i; k++) sum -= r[4 * k + i] * r[4 * k + j];
      r[4 * i + j] = sum / r[5 * i];
    }
    let rest = gram[5 * j];
    for (let k = 0; k < j; k++) rest -= r[4 * k + j] * r[4 * k + j];
    if (!(rest > 1e-14 * gram[5 * j] && rest > floor * floor)) continue;
    r[5 * j] = Math.sqrt(rest);
    smallestShare = Math.min(smallestShare, rest / gram[5 * j]);
  }
  const inverse = upperInverse(r);
  transformBlock(w, inverse);
  transformBlock(mw, inverse);
  return smallestShare;
}

/** Inverse of an upper triangular matrix on the columns with a pivot; the other columns are zero. */
function upperInverse(r: Float64Array): Float64Array {
  const inverse = new Float64Array(16);
  for (let j = 0; j < 4; j++) {
    if (r[5 * j] === 0) continue;
    inverse[5 * j] = 1 / r[5 * j];
    for (let i = j - 1; i >= 0; i--) {
      if (r[5 * i] === 0) continue;
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum += r[4 * i + k] * inverse[4 * k + j];
      inverse[4 * i + j] = -sum / r[5 * i];
    }
  }
  return inverse;
}

/** Product of two upper triangular 4 x 4 matrices. */
export function upperProduct(a: Float64Array, b: Float64Array): Float64Array {
  const c = new Float64Array(16);
  for (let i = 0; i < 4; i++) {
    for (let j = i; j < 4; j++) for (let k = i; k <= j; k++) c[4 * i + j] += a[4 * i + k] * b[4 * k + j];
  }
  return c;
}
