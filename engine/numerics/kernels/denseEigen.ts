/**
 * The cubic parts of a dense symmetric eigenproblem A x = lambda B x. Matrices stand row by row with `stride` doubles from
 * row to row (even, at least n); only lower triangles are read and written.
 */
import type { KernelMemory } from "./kernelMemory.ts";

export interface DenseEigenKernels {
  /** B = L L' in place. Returns the first row whose pivot is not above its floor (places of n floors), or -1. */
  cholesky(b: number, stride: number, n: number, floors: number): number;
  /** A := L^-1 A L^-T (the whole square is written; the lower triangle of A counts). */
  reduce(l: number, a: number, stride: number, n: number): void;
  /**
   * Householder reduction from the last row up: H_1 .. H_n-1 A H_n-1 .. H_1 = T, H_i = 1 - v v', v in columns 0 .. i-1 of row
   * i of A afterwards. d (n) and e (n, e[i] joining i and i+1) receive T; work: n doubles.
   */
  tridiagonalize(a: number, stride: number, n: number, d: number, e: number, work: number): void;
  /** z := H_n-1 .. H_1 z for `count` vectors, one after the other, `stride` apart. */
  backTransform(a: number, stride: number, n: number, z: number, count: number): void;
  /** z := L^-T z for `count` vectors. */
  backSolve(l: number, stride: number, n: number, z: number, count: number): void;
}

export function typescriptDenseEigen({ numbers: m }: KernelMemory): DenseEigenKernels {
  const dot = (x: number, y: number, length: number): number => {
    let s0 = 0;
    let s1 = 0;
    const end = (x + length - 1) | 0;
    let [i, j] = [x | 0, y | 0];
    for (; i < end; i = (i + 2) | 0, j = (j + 2) | 0) {
      s0 += m[i] * m[j];
      s1 += m[(i + 1) | 0] * m[(j + 1) | 0];
    }
    return i === end ? s0 + s1 + m[i] * m[j] : s0 + s1;
  };
  /** y -= f x */
  const subtract = (f: number, x: number, y: number, length: number): void => {
    const end = (x + length) | 0;
    for (let i = x | 0, j = y | 0; i < end; i = (i + 1) | 0, j = (j + 1) | 0) m[j] -= f * m[i];
  };
  /** rows of a, from the top: row i less L_ij rows j < i, over L_ii. */
  const forwardRows = (l: number, a: number, stride: number, n: number): void => {
    for (let i = 0; i < n; i++) {
      const row = a + i * stride;
      for (let j = 0; j < i; j++) subtract(m[l + i * stride + j], a + j * stride, row, n);
      const scale = 1 / m[l + i * stride + i];
      for (let k = 0; k < n; k++) m[row + k] *= scale;
    }
  };
  return {
    cholesky(b, stride, n, floors) {
      for (let i = 0; i < n; i++) {
        const row = b + i * stride;
        for (let j = 0; j < i; j++) {
          const other = b + j * stride;
          m[row + j] = (m[row + j] - dot(row, other, j)) / m[other + j];
        }
        const pivot = m[row + i] - dot(row, row, i);
        if (!(pivot > m[floors + i])) return i;
        m[row + i] = Math.sqrt(pivot);
      }
      return -1;
    },
    reduce(l, a, stride, n) {
      for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) m[a + j * stride + i] = m[a + i * stride + j];
      forwardRows(l, a, stride, n);
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < i; j++) {
          const t = m[a + j * stride + i];
          m[a + j * stride + i] = m[a + i * stride + j];
          m[a + i * stride + j] = t;
        }
      }
      forwardRows(l, a, stride, n);
    },
    tridiagonalize(a, stride, n, d, e, work) {
      m[e + n - 1] = 0;
      for (let i = n - 1; i > 0; i--) {
        const v = a + i * stride;
        m[d + i] = m[v + i];
        let largest = 0;
        for (let k = 0; k < i; k++) largest = Math.max(largest, Math.abs(m[v + k]));
        if (largest === 0) {
          m[e + i - 1] = 0;
          continue;
        }
        let norm = 0;
        for (let k = 0; k < i; k++) norm += (m[v + k] / largest) ** 2;
        norm = largest * Math.sqrt(norm);
        const last = m[v + i - 1];
        const alpha = last > 0 ? -norm : norm;
        m[e + i - 1] = alpha;
        const scale = 1 / Math.sqrt(norm) / Math.sqrt(norm + Math.abs(last));
        for (let k = 0; k < i; k++) m[v + k] *= scale;
        m[v + i - 1] -= alpha * scale;
        // p = A v, then A - v p' - p v' on the lower triangle
        m.fill(0, work, work + i);
        for (let r = 0; r < i; r++) {
          const row = a + r * stride;
          m[work + r] += dot(row, v, r + 1);
          subtract(-m[v + r], row, work, r);
        }
        const half = 0.5 * dot(work, v, i);
        subtract(half, v, work, i);
        for (let r = 0; r < i; r++) {
          const row = a + r * stride;
          subtract(m[v + r], work, row, r + 1);
          subtract(m[work + r], v, row, r + 1);
        }
      }
      if (n > 0) m[d] = m[a];
    },
    backTransform(a, stride, n, z, count) {
      for (let c = 0; c < count; c++) {
        const x = z + c * stride;
        for (let i = 1; i < n; i++) {
          if (m[a + i * stride + i - 1] === 0) continue;
          subtract(dot(a + i * stride, x, i), a + i * stride, x, i);
        }
      }
    },
    backSolve(l, stride, n, z, count) {
      for (let c = 0; c < count; c++) {
        const x = z + c * stride;
        for (let i = n - 1; i >= 0; i--) {
          const value = m[x + i] / m[l + i * stride + i];
          m[x + i] = value;
          subtract(value, l + i * stride, x, i);
        }
      }
    },
  };
}
