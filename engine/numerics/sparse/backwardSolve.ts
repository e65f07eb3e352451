import type { CholeskyFactor } from "./factorize.ts";

/** x := L^-T x IN PLACE for four interleaved right-hand sides in elimination order. */
export function backward(f: CholeskyFactor, x: Float64Array): void {
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
  const step = 4 * w;
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
    for (let i = 0; i < yEnd; i = (i + 16) | 0, q = (q + step) | 0) {
      const second = (q + both) | 0;
      let u = l[q];
      let v = l[(second + 0) | 0];
      let y0 = y[i];
      let y1 = y[(i + 1) | 0];
      let y2 = y[(i + 2) | 0];
      let y3 = y[(i + 3) | 0];
      a0 += u * y0;
      a1 += u * y1;
      a2 += u * y2;
      a3 += u * y3;
      b0 += v * y0;
      b1 += v * y1;
      b2 += v * y2;
      b3 += v * y3;
      u = l[(q + 1) | 0];
      v = l[(second + 1) | 0];
      y0 = y[(i + 4) | 0];
      y1 = y[(i + 5) | 0];
      y2 = y[(i + 6) | 0];
      y3 = y[(i + 7) | 0];
      a0 += u * y0;
      a1 += u * y1;
      a2 += u * y2;
      a3 += u * y3;
      b0 += v * y0;
      b1 += v * y1;
      b2 += v * y2;
      b3 += v * y3;
      u = l[(q + 2) | 0];
      v = l[(second + 2) | 0];
      y0 = y[(i + 8) | 0];
      y1 = y[(i + 9) | 0];
      y2 = y[(i + 10) | 0];
      y3 = y[(i + 11) | 0];
      a0 += u * y0;
      a1 += u * y1;
      a2 += u * y2;
      a3 += u * y3;
      b0 += v * y0;
      b1 += v * y1;
      b2 += v * y2;
      b3 += v * y3;
      u = l[(q + 3) | 0];
      v = l[(second + 3) | 0];
      y0 = y[(i + 12) | 0];
      y1 = y[(i + 13) | 0];
      y2 = y[(i + 14) | 0];
      y3 = y[(i + 15) | 0];
      a0 += u * y0;
      a1 += u * y1;
      a2 += u * y2;
      a3 += u * y3;
      b0 += v * y0;
      b1 += v * y1;
      b2 += v * y2;
      b3 += v * y3;
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

/** Two rows at a time from the last: their unknowns first, then what they take from all before them. */
function backwardDiagonal(l: Float64Array, diagonal: number, w: number, x: Float64Array, at: number): void {
  let i = w - 1;
  for (; i > 0; i -= 2) {
    const row = diagonal + i * w;
    const before = row - w;
    const to = at + 4 * i;
    const inverse = 1 / l[row + i];
    const a0 = x[to] * inverse;
    const a1 = x[to + 1] * inverse;
    const a2 = x[to + 2] * inverse;
    const a3 = x[to + 3] * inverse;
    const joint = l[row + i - 1];
    const inverseBefore = 1 / l[before + i - 1];
    const b0 = (x[to - 4] - joint * a0) * inverseBefore;
    const b1 = (x[to - 3] - joint * a1) * inverseBefore;
    const b2 = (x[to - 2] - joint * a2) * inverseBefore;
    const b3 = (x[to - 1] - joint * a3) * inverseBefore;
    x[to] = a0;
    x[to + 1] = a1;
    x[to + 2] = a2;
    x[to + 3] = a3;
    x[to - 4] = b0;
    x[to - 3] = b1;
    x[to - 2] = b2;
    x[to - 1] = b3;
    const end = i - 1;
    for (let j = 0, q = at; j < end; j = (j + 1) | 0, q = (q + 4) | 0) {
      const u = l[(row + j) | 0];
      const v = l[(before + j) | 0];
      x[q] -= u * a0 + v * b0;
      x[(q + 1) | 0] -= u * a1 + v * b1;
      x[(q + 2) | 0] -= u * a2 + v * b2;
      x[(q + 3) | 0] -= u * a3 + v * b3;
    }
  }
  if (i < 0) return;
  const inverse = 1 / l[diagonal]; // an odd first row is left over
  for (let c = 0; c < 4; c++) x[at + c] *= inverse;
}
