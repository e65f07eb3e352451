/**
 * A B', A rows x inner and B columns x inner, row by row; two rows by four columns at a time. `symmetric`: the result is known to
 * be, and half of it is computed.
 */
export function timesTransposed(
  a: Float64Array,
  b: Float64Array,
  rows: number,
  columns: number,
  inner: number,
  symmetric = false,
): Float64Array {
  const picked = singleEntries(b, columns, inner);
  const out = new Float64Array(rows * columns);
  if (picked !== null) {
    for (let i = 0; i < rows; i++)
      for (let j = 0; j < columns; j++)
        out[i * columns + j] = a[i * inner + picked[j]] * b[j * inner + picked[j]];
    return out;
  }
  const evenRows = rows & ~1;
  const wholeColumns = columns & ~3;
  for (let i = 0; i < evenRows; i += 2) {
    const end = symmetric ? Math.min(wholeColumns, i + 2) : wholeColumns;
    for (let j = 0; j < end; j += 4)
      twoByFour(a, i * inner, b, j * inner, inner, out, i * columns + j, columns);
  }
  for (let i = 0; i < evenRows; i++)
    for (let j = wholeColumns; j < columns; j++)
      out[i * columns + j] = dot(a, i * inner, b, j * inner, inner);
  if (evenRows < rows)
    for (let j = 0; j < columns; j++)
      out[evenRows * columns + j] = dot(a, evenRows * inner, b, j * inner, inner);
  if (symmetric)
    for (let i = 1; i < rows; i++) for (let j = 0; j < i; j++) out[j * columns + i] = out[i * columns + j];
  return out;
}

/** Two rows of A by four of B; apart from its loops, so that the engine compiles little and once. */
function twoByFour(
  a: Float64Array,
  x: number,
  b: Float64Array,
  y: number,
  inner: number,
  out: Float64Array,
  to: number,
  columns: number,
): void {
  const z = (x + inner) | 0;
  const y1 = (y + inner) | 0;
  const y2 = (y1 + inner) | 0;
  const y3 = (y2 + inner) | 0;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let t0 = 0;
  let t1 = 0;
  let t2 = 0;
  let t3 = 0;
  for (let k = 0; k < inner; k = (k + 1) | 0) {
    const u = a[(x + k) | 0];
    const v = a[(z + k) | 0];
    const b0 = b[(y + k) | 0];
    const b1 = b[(y1 + k) | 0];
    const b2 = b[(y2 + k) | 0];
    const b3 = b[(y3 + k) | 0];
    s0 += u * b0;
    s1 += u * b1;
    s2 += u * b2;
    s3 += u * b3;
    t0 += v * b0;
    t1 += v * b1;
    t2 += v * b2;
    t3 += v * b3;
  }
  out[to] = s0;
  out[to + 1] = s1;
  out[to + 2] = s2;
  out[to + 3] = s3;
  out[to + columns] = t0;
  out[to + columns + 1] = t1;
  out[to + columns + 2] = t2;
  out[to + columns + 3] = t3;
}

function dot(a: Float64Array, i: number, b: Float64Array, j: number, length: number): number {
  let sum = 0;
  for (let k = 0; k < length; k++) sum += a[i + k] * b[j + k];
  return sum;
}

/** Place of the one entry in each of B's rows that is not zero (any, where all are); null if a row has more. */
function singleEntries(b: Float64Array, rows: number, inner: number): Int32Array | null {
  if (inner === 0) return null;
  const out = new Int32Array(rows);
  for (let j = 0; j < rows; j++) {
    let found = 0;
    for (let k = 0; k < inner; k++) {
      if (b[j * inner + k] === 0) continue;
      if (found++ > 0) return null;
      out[j] = k;
    }
  }
  return out;
}
