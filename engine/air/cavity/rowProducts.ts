/**
 * Scalar products of every row of x with every row of y (rows of `width` numbers, row after row): rows of x by rows of y.
 * Four rows of y are taken at a time, so that x is read a quarter as often and the sums do not wait for each other.
 */
export function rowProducts(
  x: Float64Array,
  y: Float64Array,
  width: number,
  out: Float64Array = new Float64Array((x.length / width) * (y.length / width)),
): Float64Array {
  const rows = x.length / width;
  const columns = y.length / width;
  for (let r = 0; r < rows; r++) {
    const at = r * width;
    let c = 0;
    for (; c + 4 <= columns; c += 4) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      const from = c * width;
      for (let i = 0; i < width; i++) {
        const v = x[at + i];
        s0 += v * y[from + i];
        s1 += v * y[from + width + i];
        s2 += v * y[from + 2 * width + i];
        s3 += v * y[from + 3 * width + i];
      }
      out[r * columns + c] = s0;
      out[r * columns + c + 1] = s1;
      out[r * columns + c + 2] = s2;
      out[r * columns + c + 3] = s3;
    }
    for (; c < columns; c++) {
      let sum = 0;
      for (let i = 0; i < width; i++) sum += x[at + i] * y[c * width + i];
      out[r * columns + c] = sum;
    }
  }
  return out;
}

/** x += C y: to every row of x the rows of y, each times its coefficient (C: rows of x by rows of y). */
export function addRows(x: Float64Array, c: Float64Array, y: Float64Array, width: number): void {
  const rows = x.length / width;
  const columns = y.length / width;
  for (let r = 0; r < rows; r++) {
    const at = r * width;
    let k = 0;
    for (; k + 4 <= columns; k += 4) {
      const c0 = c[r * columns + k];
      const c1 = c[r * columns + k + 1];
      const c2 = c[r * columns + k + 2];
      const c3 = c[r * columns + k + 3];
      const from = k * width;
      for (let i = 0; i < width; i++)
        x[at + i] +=
          c0 * y[from + i] +
          c1 * y[from + width + i] +
          c2 * y[from + 2 * width + i] +
          c3 * y[from + 3 * width + i];
    }
    for (; k < columns; k++) {
      const one = c[r * columns + k];
      for (let i = 0; i < width; i++) x[at + i] += one * y[k * width + i];
    }
  }
}
