/** Small triangular algebra of blocks of four vectors; 4 x 4 matrices row by row. */

export interface BlockCholesky {
  /** Upper triangular R with gram = R' R. A column that vanished has a zero diagonal entry. */
  readonly r: Float64Array;
  /** Inverse of R on the columns that did not vanish; the other columns are zero. */
  readonly inverse: Float64Array;
  /** Smallest share |rest|^2 / |column|^2 of the columns kept: where it is small, digits were lost. */
  readonly share: number;
}

/**
 * Orthonormalises a block w with gram = w' M w: w times the inverse is orthonormal, and w is that times R. A column
 * whose rest after the columns before it is below `floor` counts as vanished.
 */
export function blockCholesky(gram: ArrayLike<number>, floor: number): BlockCholesky {
  const r = new Float64Array(16);
  let share = 1;
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
    share = Math.min(share, rest / gram[5 * j]);
  }
  return { r, inverse: upperInverse(r), share };
}

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
