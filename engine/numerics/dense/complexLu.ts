/** Dense complex linear systems on split real and imaginary arrays. */
import { done, failed, type Outcome } from "../outcome.ts";

/** P A = L U of a complex n x n matrix, row by row: unit lower L below the diagonal, U on and above it. */
export interface ComplexLu {
  readonly n: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Row of A that stands in each row of the factor. */
  readonly rows: Uint32Array;
  /** det A = determinant x 2^exponent, kept apart so that it neither overflows nor vanishes. */
  readonly determinant: { readonly re: number; readonly im: number; readonly exponent: number };
}

/**
 * Factors a complex matrix with partial pivoting. re, im: n x n row by row (kept).
 * Fails with 'singular' where the largest pivot of a column vanishes to rounding against the largest entry.
 */
export function complexLu(re: Float64Array, im: Float64Array, n: number): Outcome<ComplexLu> {
  const a = re.slice(0, n * n);
  const b = im.slice(0, n * n);
  const rows = Uint32Array.from({ length: n }, (_, i) => i);
  let largest = 0;
  for (let i = 0; i < a.length; i++) largest = Math.max(largest, Math.hypot(a[i], b[i]));
  let detRe = 1;
  let detIm = 0;
  let exponent = 0;
  for (let k = 0; k < n; k++) {
    let p = k;
    let size = 0;
    for (let i = k; i < n; i++) {
      const s = Math.hypot(a[i * n + k], b[i * n + k]);
      if (s > size) {
        size = s;
        p = i;
      }
    }
    if (!(size > n * Number.EPSILON * largest)) {
      return failed("singular", `no pivot in column ${k} of ${n}: ${size} against entries up to ${largest}`);
    }
    if (p !== k) {
      swapRows(a, n, p, k);
      swapRows(b, n, p, k);
      [rows[p], rows[k]] = [rows[k], rows[p]];
      detRe = -detRe;
      detIm = -detIm;
    }
    const pr = a[k * n + k];
    const pi = b[k * n + k];
    [detRe, detIm] = [detRe * pr - detIm * pi, detRe * pi + detIm * pr];
    const scale = Math.floor(Math.log2(Math.hypot(detRe, detIm)));
    detRe *= 2 ** -scale;
    detIm *= 2 ** -scale;
    exponent += scale;
    const inverse = 1 / (pr * pr + pi * pi);
    for (let i = k + 1; i < n; i++) {
      const xr = a[i * n + k];
      const xi = b[i * n + k];
      if (xr === 0 && xi === 0) continue;
      const fr = (xr * pr + xi * pi) * inverse;
      const fi = (xi * pr - xr * pi) * inverse;
      a[i * n + k] = fr;
      b[i * n + k] = fi;
      for (let j = k + 1; j < n; j++) {
        const ur = a[k * n + j];
        const ui = b[k * n + j];
        a[i * n + j] -= fr * ur - fi * ui;
        b[i * n + j] -= fr * ui + fi * ur;
      }
    }
  }
  return done({ n, re: a, im: b, rows, determinant: { re: detRe, im: detIm, exponent } });
}

function swapRows(a: Float64Array, n: number, p: number, q: number): void {
  for (let j = 0; j < n; j++) {
    const t = a[p * n + j];
    a[p * n + j] = a[q * n + j];
    a[q * n + j] = t;
  }
}

/** Solves A x = b with a factor. bRe, bIm: n x columns, column after column (kept). */
export function complexLuSolve(
  lu: ComplexLu,
  bRe: Float64Array,
  bIm: Float64Array,
  columns = 1,
): { readonly re: Float64Array; readonly im: Float64Array } {
  const { n, re: a, im: b, rows } = lu;
  const xr = new Float64Array(n * columns);
  const xi = new Float64Array(n * columns);
  for (let c = 0; c < columns; c++) {
    const o = c * n;
    for (let i = 0; i < n; i++) {
      let sr = bRe[o + rows[i]];
      let si = bIm[o + rows[i]];
      for (let k = 0; k < i; k++) {
        sr -= a[i * n + k] * xr[o + k] - b[i * n + k] * xi[o + k];
        si -= a[i * n + k] * xi[o + k] + b[i * n + k] * xr[o + k];
      }
      xr[o + i] = sr;
      xi[o + i] = si;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sr = xr[o + i];
      let si = xi[o + i];
      for (let k = i + 1; k < n; k++) {
        sr -= a[i * n + k] * xr[o + k] - b[i * n + k] * xi[o + k];
        si -= a[i * n + k] * xi[o + k] + b[i * n + k] * xr[o + k];
      }
      const pr = a[i * n + i];
      const pi = b[i * n + i];
      const inverse = 1 / (pr * pr + pi * pi);
      xr[o + i] = (sr * pr + si * pi) * inverse;
      xi[o + i] = (si * pr - sr * pi) * inverse;
    }
  }
  return { re: xr, im: xi };
}
