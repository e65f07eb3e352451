/** Triangular solves with a supernodal Cholesky factor, four right-hand sides at a time. */
import { invariant } from "../outcome.ts";
import type { CholeskyFactor } from "./factorize.ts";

/** Solves A x = b. b and the result: n x columns, column after column (out may be b). */
export function solveFactored(
  f: CholeskyFactor,
  b: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(f.n * columns),
): Float64Array {
  const { n } = f;
  const { dofAt } = f.partition;
  invariant(b.length >= n * columns && out.length >= n * columns, () => "vectors shorter than the factor");
  const block = new Float64Array(4 * n);
  for (let c = 0; c < columns; c += 4) {
    const width = Math.min(4, columns - c);
    block.fill(0);
    for (let k = 0; k < width; k++) for (let i = 0; i < n; i++) block[4 * i + k] = b[(c + k) * n + dofAt[i]];
    solveBlock(f, block);
    for (let k = 0; k < width; k++)
      for (let i = 0; i < n; i++) out[(c + k) * n + dofAt[i]] = block[4 * i + k];
  }
  return out;
}

/**
 * Solves A x = b IN PLACE for four right-hand sides interleaved and in elimination order: side c of the unknown at
 * position p stands at 4 p + c.
 */
export function solveBlock(f: CholeskyFactor, x: Float64Array): void {
  forward(f, x);
  backward(f, x);
}

/** x := L^-1 x, in elimination order. */
function forward(f: CholeskyFactor, x: Float64Array): void {
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

/** x := L^-T x, in elimination order. */
function backward(f: CholeskyFactor, x: Float64Array): void {
  const { count, columnStart, rowStart, rowIndex } = f.partition;
  const l = f.values;
  let tallest = 0;
  for (let s = 0; s < count; s++) tallest = Math.max(tallest, rowStart[s + 1] - rowStart[s]);
  const y = new Float64Array(4 * (tallest + 4)); // the rows below the supernode, gathered; zero beyond the last
  for (let s = count - 1; s >= 0; s--) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    const r = rowStart[s + 1] - rowStart[s];
    const diagonal = f.valueStart[s];
    const strips = (r + 3) >> 2;
    for (let i = 0, from = rowStart[s]; i < r; i++) {
      const place = rowIndex[from + i] << 2;
      y[4 * i] = x[place];
      y[4 * i + 1] = x[place + 1];
      y[4 * i + 2] = x[place + 2];
      y[4 * i + 3] = x[place + 3];
    }
    y.fill(0, 4 * r, 16 * strips);
    subtractPanelTransposed(l, diagonal + w * w, w, strips, y, x, 4 * first);
    backwardDiagonal(l, diagonal, w, x, 4 * first);
  }
}

/** x := x - panel' y, two columns of the panel at a time: two columns of one strip share a cache line. */
function subtractPanelTransposed(
  l: Float64Array,
  panel: number,
  w: number,
  strips: number,
  y: Float64Array,
  x: Float64Array,
  at: number,
): void {
  const step = 4 * w - 4;
  const yEnd = 16 * strips;
  for (let k = 0; k < w; k += 2) {
    const both = k + 1 < w ? 4 : 0; // an odd last column is worked twice and taken once
    let a0 = 0;
    let a1 = 0;
    let a2 = 0;
    let a3 = 0;
    let b0 = 0;
    let b1 = 0;
    let b2 = 0;
    let b3 = 0;
    let q = (panel + 4 * k) | 0;
    for (let i = 0; i < yEnd; q = (q + step) | 0) {
      for (const stop = (i + 16) | 0; i < stop; i = (i + 4) | 0, q = (q + 1) | 0) {
        const u = l[q];
        const v = l[(q + both) | 0];
        const y0 = y[i];
        const y1 = y[(i + 1) | 0];
        const y2 = y[(i + 2) | 0];
        const y3 = y[(i + 3) | 0];
        a0 += u * y0;
        a1 += u * y1;
        a2 += u * y2;
        a3 += u * y3;
        b0 += v * y0;
        b1 += v * y1;
        b2 += v * y2;
        b3 += v * y3;
      }
    }
    const to = at + 4 * k;
    x[to] -= a0;
    x[to + 1] -= a1;
    x[to + 2] -= a2;
    x[to + 3] -= a3;
    if (both > 0) {
      x[to + 4] -= b0;
      x[to + 5] -= b1;
      x[to + 6] -= b2;
      x[to + 7] -= b3;
    }
  }
}

/** Two columns at a time from the last, their joint entry last. */
function backwardDiagonal(l: Float64Array, diagonal: number, w: number, x: Float64Array, at: number): void {
  const end = diagonal + w * w;
  let i = w - 1;
  for (; i > 0; i -= 2) {
    let a0 = 0; // column i
    let a1 = 0;
    let a2 = 0;
    let a3 = 0;
    let b0 = 0; // column i - 1
    let b1 = 0;
    let b2 = 0;
    let b3 = 0;
    for (
      let p = (diagonal + (i + 1) * w + i) | 0, q = (at + 4 * i + 4) | 0;
      p < end;
      p = (p + w) | 0, q = (q + 4) | 0
    ) {
      const u = l[p];
      const v = l[(p - 1) | 0];
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
    const row = diagonal + i * w + i;
    const to = at + 4 * i;
    const inverse = 1 / l[row];
    a0 = (x[to] - a0) * inverse;
    a1 = (x[to + 1] - a1) * inverse;
    a2 = (x[to + 2] - a2) * inverse;
    a3 = (x[to + 3] - a3) * inverse;
    x[to] = a0;
    x[to + 1] = a1;
    x[to + 2] = a2;
    x[to + 3] = a3;
    const joint = l[row - 1];
    const inverseBefore = 1 / l[row - w - 1];
    x[to - 4] = (x[to - 4] - b0 - joint * a0) * inverseBefore;
    x[to - 3] = (x[to - 3] - b1 - joint * a1) * inverseBefore;
    x[to - 2] = (x[to - 2] - b2 - joint * a2) * inverseBefore;
    x[to - 1] = (x[to - 1] - b3 - joint * a3) * inverseBefore;
  }
  if (i < 0) return;
  // An odd first column is left over.
  const inverse = 1 / l[diagonal];
  for (let c = 0; c < 4; c++) {
    let sum = x[at + c];
    for (let j = 1; j < w; j++) sum -= l[diagonal + j * w] * x[at + 4 * j + c];
    x[at + c] = sum * inverse;
  }
}
