import { done, failed, type Outcome } from "../outcome.ts";
import { tridiagonalQl } from "./tridiagonal.ts";

/**
 * The `count` lowest eigenpairs of a symmetric tridiagonal matrix: values by implicit QL, vectors by two steps of inverse
 * iteration from a fixed start, made orthogonal to the neighbours before them. `vectors`: count rows of `stride`, written
 * into `out`. Source: Golub and Van Loan, Matrix Computations, sections 8.3 and 8.2.2 (inverse iteration), from memory.
 */
export function tridiagonalPairs(
  diagonal: Float64Array,
  beside: Float64Array,
  count: number,
  stride: number,
  out: Float64Array,
): Outcome<Float64Array> {
  const n = diagonal.length;
  const ql = { diagonal: diagonal.slice(), beside: beside.slice(), basis: new Float64Array(0) };
  const swept = tridiagonalQl(ql);
  if (!swept.ok) return swept;
  const values = ql.diagonal.sort().slice(0, count);
  let norm = 0;
  for (let i = 0; i < n; i++) {
    norm = Math.max(
      norm,
      Math.abs(diagonal[i]) + Math.abs(beside[i]) + (i > 0 ? Math.abs(beside[i - 1]) : 0),
    );
  }
  const lu = pivotedLu(n);
  let used = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < count; k++) {
    // equal values are told apart by a hair, so that their factors differ
    used = Math.max(values[k], used + 4 * Number.EPSILON * norm);
    lu.factor(diagonal, beside, used, Number.EPSILON * norm);
    const x = out.subarray(k * stride, k * stride + n);
    start(x, k);
    for (let step = 0; step < 2; step++) {
      lu.solve(x, step > 0);
      // with a gap of g the iteration leaves about epsilon norm / g of the neighbour: 2e-11 at this one
      for (let j = k - 1; j >= 0 && values[k] - values[j] < 1e-5 * norm; j--) removeFrom(x, out, j * stride);
      const size = Math.sqrt(dot(x, x, 0));
      if (!(size > 0)) return failed("not-converged", `no vector for eigenvalue ${k} of ${n}`);
      for (let i = 0; i < n; i++) x[i] /= size;
    }
  }
  return done(values);
}

function dot(x: Float64Array, y: Float64Array, at: number): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i] * y[at + i];
  return sum;
}

function removeFrom(x: Float64Array, y: Float64Array, at: number): void {
  const f = dot(x, y, at);
  for (let i = 0; i < x.length; i++) x[i] -= f * y[at + i];
}

/** A start vector with no pattern, different for each k: fractional parts of multiples of the golden ratio. */
function start(x: Float64Array, k: number): void {
  for (let i = 0; i < x.length; i++) x[i] = 0.5 + (((i + 1) * (0.6180339887498949 + 0.1 * (k % 7))) % 1);
}

/** LU with row interchanges of T - shift; U has two diagonals above. */
function pivotedLu(n: number) {
  const u0 = new Float64Array(n);
  const u1 = new Float64Array(n);
  const u2 = new Float64Array(n);
  const factor = new Float64Array(n);
  const swapped = new Uint8Array(n);
  return {
    factor(d: Float64Array, e: Float64Array, shift: number, tiny: number): void {
      let a = n > 0 ? d[0] - shift : 0;
      let b = n > 1 ? e[0] : 0;
      for (let i = 0; i + 1 < n; i++) {
        const low = e[i];
        const next = d[i + 1] - shift;
        const beyond = i + 2 < n ? e[i + 1] : 0;
        if (Math.abs(low) > Math.abs(a)) {
          swapped[i] = 1;
          u0[i] = low;
          u1[i] = next;
          u2[i] = beyond;
          factor[i] = a / low;
          a = b - factor[i] * next;
          b = -factor[i] * beyond;
        } else {
          swapped[i] = 0;
          if (Math.abs(a) < tiny) a = tiny;
          u0[i] = a;
          u1[i] = b;
          u2[i] = 0;
          factor[i] = low / a;
          a = next - factor[i] * b;
          b = beyond;
        }
      }
      if (n > 0) u0[n - 1] = Math.abs(a) < tiny ? tiny : a;
    },
    solve(x: Float64Array, forward: boolean): void {
      if (forward) {
        for (let i = 0; i + 1 < n; i++) {
          if (swapped[i] === 1) {
            const t = x[i];
            x[i] = x[i + 1];
            x[i + 1] = t - factor[i] * x[i];
          } else x[i + 1] -= factor[i] * x[i];
        }
      }
      let largest = 0;
      for (let i = n - 1; i >= 0; i--) {
        let sum = x[i];
        if (i + 1 < n) sum -= u1[i] * x[i + 1];
        if (i + 2 < n) sum -= u2[i] * x[i + 2];
        x[i] = sum / u0[i];
        largest = Math.max(largest, Math.abs(x[i]));
      }
      if (largest > 0) for (let i = 0; i < n; i++) x[i] /= largest;
    },
  };
}
