/** The two halves of a dense symmetric eigenproblem: reduction to tridiagonal form, and implicit QL on that. */
import { done, failed, type Outcome } from "../outcome.ts";

/** A = Q T Q' with T tridiagonal: diagonal d (n) and e (n), e[i] joining i and i+1, the last unused. */
export interface Tridiagonal {
  readonly diagonal: Float64Array;
  readonly beside: Float64Array;
  /** Rows are the images of the columns of Q under the chosen rows of the unit matrix: n x width, see below. */
  readonly basis: Float64Array;
}

/**
 * Householder reduction of a symmetric n x n matrix, row by row, lower triangle read.
 * Of Q only the LAST `width` rows are formed (width = n: all of Q), stored by columns of Q: n x width. So an iteration
 * that only needs the last components of each eigenvector stays cheap.
 */
export function tridiagonalize(matrix: Float64Array, n: number, width: number): Tridiagonal {
  const a = matrix.slice(0, n * n);
  const diagonal = new Float64Array(n);
  const beside = new Float64Array(n);
  const reflectors = new Float64Array(n * n); // row k: v_k, zero up to k, H_k = 1 - v v' (v scaled to |v|^2 = 2)
  const p = new Float64Array(n);
  for (let k = 0; k < n - 2; k++) {
    const v = reflectors.subarray(k * n, k * n + n);
    let largest = 0;
    for (let i = k + 1; i < n; i++) largest = Math.max(largest, Math.abs(a[i * n + k]));
    diagonal[k] = a[k * n + k];
    if (largest === 0) continue;
    let norm = 0;
    for (let i = k + 1; i < n; i++) norm += (a[i * n + k] / largest) ** 2;
    norm = largest * Math.sqrt(norm);
    const first = a[(k + 1) * n + k];
    const alpha = first > 0 ? -norm : norm;
    beside[k] = alpha;
    // |x - alpha e1|^2 = 2 norm (norm + |first|)
    const scale = 1 / Math.sqrt(norm) / Math.sqrt(norm + Math.abs(first));
    for (let i = k + 1; i < n; i++) v[i] = a[i * n + k] * scale;
    v[k + 1] -= alpha * scale;
    // p = A v and A - v p' - p v', on the lower triangle only
    p.fill(0);
    let vp = 0;
    for (let i = k + 1; i < n; i++) {
      const row = (i * n) | 0;
      const vi = v[i];
      let sum = a[row + i] * vi;
      for (let j = k + 1; j < i; j = (j + 1) | 0) {
        const x = a[(row + j) | 0];
        sum += x * v[j];
        p[j] += x * vi;
      }
      p[i] += sum;
    }
    for (let i = k + 1; i < n; i++) vp += p[i] * v[i];
    for (let i = k + 1; i < n; i++) p[i] -= 0.5 * vp * v[i];
    for (let i = k + 1; i < n; i++) {
      const row = (i * n) | 0;
      const vi = v[i];
      const pi = p[i];
      for (let j = k + 1; j <= i; j = (j + 1) | 0) a[(row + j) | 0] -= vi * p[j] + pi * v[j];
    }
  }
  if (n >= 2) {
    diagonal[n - 2] = a[(n - 2) * n + n - 2];
    beside[n - 2] = a[(n - 1) * n + n - 2];
  }
  if (n >= 1) diagonal[n - 1] = a[n * n - 1];
  return { diagonal, beside, basis: lastRowsOfProduct(reflectors, n, width) };
}

/** The last `width` rows of H_0 H_1 ... , stored by columns. */
function lastRowsOfProduct(reflectors: Float64Array, n: number, width: number): Float64Array {
  const rows = new Float64Array(width * n);
  for (let r = 0; r < width; r++) rows[r * n + n - width + r] = 1;
  for (let k = 0; k < n - 2; k++) {
    const v = reflectors.subarray(k * n, k * n + n);
    for (let r = 0; r < width; r++) {
      const o = r * n;
      let dot = 0;
      for (let i = k + 1; i < n; i++) dot += rows[o + i] * v[i];
      if (dot === 0) continue;
      for (let i = k + 1; i < n; i++) rows[o + i] -= dot * v[i];
    }
  }
  const basis = new Float64Array(n * width);
  for (let r = 0; r < width; r++) for (let i = 0; i < n; i++) basis[i * width + r] = rows[r * n + i];
  return basis;
}

/**
 * Eigenvalues of a tridiagonal matrix by implicit QL with Wilkinson's shift, IN PLACE: diagonal becomes the (unsorted)
 * values, each row of basis (n x width) the eigenvector's chosen components. Source: Golub and Van Loan, Matrix
 * Computations, section 8.3 (QR written from the other end).
 */
export function tridiagonalQl(t: Tridiagonal): Outcome<null> {
  const { diagonal: d, beside: e, basis } = t;
  const n = d.length;
  const width = n === 0 ? 0 : basis.length / n;
  for (let l = 0; l < n; l++) {
    for (let iteration = 0; ; iteration++) {
      let m = l;
      while (m < n - 1 && Math.abs(e[m]) > Number.EPSILON * (Math.abs(d[m]) + Math.abs(d[m + 1]))) m++;
      if (m === l) break;
      if (iteration === 60) return failed("not-converged", `eigenvalue ${l} of ${n} after 60 QL sweeps`);
      let g = (d[l + 1] - d[l]) / (2 * e[l]);
      let r = Math.sqrt(g * g + 1);
      g = d[m] - d[l] + e[l] / (g + (g < 0 ? -r : r));
      let s = 1;
      let c = 1;
      let p = 0;
      let split = false;
      for (let i = m - 1; i >= l; i--) {
        const f = s * e[i];
        const b = c * e[i];
        r = Math.sqrt(f * f + g * g);
        e[i + 1] = r;
        if (r === 0) {
          d[i + 1] -= p;
          e[m] = 0;
          split = true;
          break;
        }
        s = f / r;
        c = g / r;
        g = d[i + 1] - p;
        r = (d[i] - g) * s + 2 * c * b;
        p = s * r;
        d[i + 1] = g + p;
        g = c * r - b;
        const upper = (i + 1) * width;
        const lower = i * width;
        for (let k = 0; k < width; k++) {
          const z = basis[upper + k];
          const y = basis[lower + k];
          basis[upper + k] = s * y + c * z;
          basis[lower + k] = c * y - s * z;
        }
      }
      if (split) continue;
      d[l] -= p;
      e[l] = g;
      e[m] = 0;
    }
  }
  return done(null);
}
