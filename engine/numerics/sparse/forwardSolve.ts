import type { CholeskyFactor } from "./factorize.ts";

/** x := L^-1 x IN PLACE for four interleaved right-hand sides in elimination order. Two rows of a strip at a time. */
export function forward(f: CholeskyFactor, x: Float64Array): void {
  const { count, columnStart, rowStart, rowIndex } = f.partition;
  const l = f.values;
  for (let s = 0; s < count; s++) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const diagonal = f.valueStart[s];
    forwardDiagonal(l, diagonal, w, x, 4 * first);
    const panel = diagonal + w * w;
    const xEnd = 4 * (first + w);
    let p = panel;
    let pair = 0;
    const rowEnd = rowStart[s + 1];
    for (let row = rowStart[s]; row < rowEnd; row += 2) {
      let a0 = 0;
      let a1 = 0;
      let a2 = 0;
      let a3 = 0;
      let b0 = 0;
      let b1 = 0;
      let b2 = 0;
      let b3 = 0;
      let q = (p + 2 * pair) | 0;
      for (let k = (4 * first) | 0; k < xEnd; k = (k + 4) | 0, q = (q + 4) | 0) {
        const u = l[q];
        const v = l[(q + 1) | 0];
        const x0 = x[k];
        const x1 = x[(k + 1) | 0];
        const x2 = x[(k + 2) | 0];
        const x3 = x[(k + 3) | 0];
        a0 += u * x0;
        a1 += u * x1;
        a2 += u * x2;
        a3 += u * x3;
        b0 += v * x0;
        b1 += v * x1;
        b2 += v * x2;
        b3 += v * x3;
      }
      p += pair * 4 * w;
      pair = 1 - pair;
      const to = rowIndex[row] << 2;
      x[to] -= a0;
      x[to + 1] -= a1;
      x[to + 2] -= a2;
      x[to + 3] -= a3;
      if (row + 1 < rowEnd) {
        const below = rowIndex[row + 1] << 2;
        x[below] -= b0;
        x[below + 1] -= b1;
        x[below + 2] -= b2;
        x[below + 3] -= b3;
      }
    }
  }
}

/** Two rows at a time, their joint entry last. */
function forwardDiagonal(l: Float64Array, diagonal: number, w: number, x: Float64Array, at: number): void {
  for (let i = 0; i < w; i += 2) {
    const two = i + 1 < w; // an odd last row is worked twice and taken once
    const row = diagonal + i * w;
    const next = two ? row + w : row;
    const to = at + 4 * i;
    let a0 = 0;
    let a1 = 0;
    let a2 = 0;
    let a3 = 0;
    let b0 = 0;
    let b1 = 0;
    let b2 = 0;
    let b3 = 0;
    for (let j = 0, q = at; j < i; j = (j + 1) | 0, q = (q + 4) | 0) {
      const u = l[(row + j) | 0];
      const v = l[(next + j) | 0];
      const x0 = x[q];
      const x1 = x[(q + 1) | 0];
      const x2 = x[(q + 2) | 0];
      const x3 = x[(q + 3) | 0];
      a0 += u * x0;
      a1 += u * x1;
      a2 += u * x2;
      a3 += u * x3;
      b0 += v * x0;
      b1 += v * x1;
      b2 += v * x2;
      b3 += v * x3;
    }
    const inverse = 1 / l[row + i];
    a0 = (x[to] - a0) * inverse;
    a1 = (x[to + 1] - a1) * inverse;
    a2 = (x[to + 2] - a2) * inverse;
    a3 = (x[to + 3] - a3) * inverse;
    x[to] = a0;
    x[to + 1] = a1;
    x[to + 2] = a2;
    x[to + 3] = a3;
    if (!two) return;
    const joint = l[next + i];
    const inverseNext = 1 / l[next + i + 1];
    x[to + 4] = (x[to + 4] - b0 - joint * a0) * inverseNext;
    x[to + 5] = (x[to + 5] - b1 - joint * a1) * inverseNext;
    x[to + 6] = (x[to + 6] - b2 - joint * a2) * inverseNext;
    x[to + 7] = (x[to + 7] - b3 - joint * a3) * inverseNext;
  }
}
