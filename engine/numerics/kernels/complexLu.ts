/** Dense products, real factors, and complex factors on split real and imaginary parts, row by row. */
import type { KernelMemory } from "./kernelMemory.ts";

export interface ComplexLuKernels {
  /**
   * c := c + a b, real. a: m x k, b: k x n, c: m x n, row by row, their rows strideA, strideB, strideC doubles apart.
   * scratch: place of 4 k doubles. 2 m k n operations.
   */
  multiplyRows(
    m: number,
    k: number,
    n: number,
    a: number,
    strideA: number,
    b: number,
    strideB: number,
    c: number,
    strideC: number,
    scratch: number,
  ): void;
  /** `factorComplex` and `solveComplex` of a real matrix. scratch: 4 n doubles. */
  factorReal(a: number, n: number, least: number, pivot: number, scratch: number): number;
  solveReal(a: number, n: number, pivot: number, b: number, columns: number, scratch: number): void;
  /** c := c - a b, complex; places of real parts are followed by places of imaginary parts. scratch: 8 k doubles. */
  subtractComplexRows(
    m: number,
    k: number,
    n: number,
    aRe: number,
    aIm: number,
    strideA: number,
    bRe: number,
    bIm: number,
    strideB: number,
    cRe: number,
    cIm: number,
    strideC: number,
    scratch: number,
  ): void;
  /**
   * P A = L U of an n x n matrix in place, partial pivoting; unit lower L below the diagonal. pivot: index place of n
   * integers: row i was exchanged with row pivot[i] at step i. scratch: 8 n doubles. Returns 0, or 1 + the column in which
   * no pivot exceeds `least` in absolute value.
   */
  factorComplex(re: number, im: number, n: number, least: number, pivot: number, scratch: number): number;
  /** Solves A x = b in place with such a factor; b: n x columns row by row. scratch: 8 n doubles. */
  solveComplex(
    re: number,
    im: number,
    n: number,
    pivot: number,
    bRe: number,
    bIm: number,
    columns: number,
    scratch: number,
  ): void;
}

export function typescriptComplexLu({ numbers: x, indices }: KernelMemory): ComplexLuKernels {
  /** Row at `to` minus (fr + i fi) times row at `from`, both of `length` complex numbers. */
  function takeRow(
    fr: number,
    fi: number,
    fromRe: number,
    fromIm: number,
    toRe: number,
    toIm: number,
    length: number,
  ): void {
    for (let j = 0; j < length; j++) {
      const ur = x[fromRe + j];
      const ui = x[fromIm + j];
      x[toRe + j] -= fr * ur - fi * ui;
      x[toIm + j] -= fr * ui + fi * ur;
    }
  }
  function swapRows(at: number, width: number, p: number, q: number): void {
    for (let j = 0; j < width; j++) {
      const t = x[at + p * width + j];
      x[at + p * width + j] = x[at + q * width + j];
      x[at + q * width + j] = t;
    }
  }
  return {
    multiplyRows(m, k, n, a, strideA, b, strideB, c, strideC) {
      for (let i = 0; i < m; i++) {
        const to = c + i * strideC;
        for (let l = 0; l < k; l++) {
          const f = x[a + i * strideA + l];
          if (f === 0) continue;
          const from = b + l * strideB;
          for (let j = 0; j < n; j++) x[to + j] += f * x[from + j];
        }
      }
    },
    factorReal(a, n, least, pivot) {
      for (let k = 0; k < n; k++) {
        let p = k;
        let size = 0;
        for (let i = k; i < n; i++) {
          const s = Math.abs(x[a + i * n + k]);
          if (s > size) {
            size = s;
            p = i;
          }
        }
        if (!(size > least)) return k + 1;
        indices[pivot + k] = p;
        if (p !== k) swapRows(a, n, p, k);
        const u = a + k * n;
        for (let i = k + 1; i < n; i++) {
          const to = a + i * n;
          const f = x[to + k] / x[u + k];
          x[to + k] = f;
          for (let j = k + 1; j < n; j++) x[to + j] -= f * x[u + j];
        }
      }
      return 0;
    },
    solveReal(a, n, pivot, b, columns) {
      for (let i = 0; i < n; i++) if (indices[pivot + i] !== i) swapRows(b, columns, indices[pivot + i], i);
      const take = (i: number, l: number): void => {
        const f = x[a + i * n + l];
        for (let j = 0; j < columns; j++) x[b + i * columns + j] -= f * x[b + l * columns + j];
      };
      for (let i = 0; i < n; i++) for (let l = 0; l < i; l++) take(i, l);
      for (let i = n - 1; i >= 0; i--) {
        for (let l = i + 1; l < n; l++) take(i, l);
        for (let j = 0; j < columns; j++) x[b + i * columns + j] /= x[a + i * n + i];
      }
    },
    subtractComplexRows(m, k, n, aRe, aIm, strideA, bRe, bIm, strideB, cRe, cIm, strideC) {
      for (let i = 0; i < m; i++) {
        for (let l = 0; l < k; l++) {
          const o = i * strideA + l;
          const [p, q] = [l * strideB, i * strideC];
          takeRow(x[aRe + o], x[aIm + o], bRe + p, bIm + p, cRe + q, cIm + q, n);
        }
      }
    },
    factorComplex(re, im, n, least, pivot) {
      for (let k = 0; k < n; k++) {
        let p = k;
        let size = 0;
        for (let i = k; i < n; i++) {
          const s = x[re + i * n + k] ** 2 + x[im + i * n + k] ** 2;
          if (s > size) {
            size = s;
            p = i;
          }
        }
        if (!(size > least * least)) return k + 1;
        indices[pivot + k] = p;
        if (p !== k) {
          swapRows(re, n, p, k);
          swapRows(im, n, p, k);
        }
        const pr = x[re + k * n + k] / size;
        const pi = -x[im + k * n + k] / size;
        for (let i = k + 1; i < n; i++) {
          const o = i * n + k;
          const fr = x[re + o] * pr - x[im + o] * pi;
          const fi = x[re + o] * pi + x[im + o] * pr;
          x[re + o] = fr;
          x[im + o] = fi;
          const u = k * n + k + 1;
          takeRow(fr, fi, re + u, im + u, re + o + 1, im + o + 1, n - k - 1);
        }
      }
      return 0;
    },
    solveComplex(re, im, n, pivot, bRe, bIm, columns) {
      for (let i = 0; i < n; i++) {
        const p = indices[pivot + i];
        if (p === i) continue;
        swapRows(bRe, columns, p, i);
        swapRows(bIm, columns, p, i);
      }
      const take = (i: number, l: number): void => {
        const o = i * n + l;
        const [p, q] = [l * columns, i * columns];
        takeRow(x[re + o], x[im + o], bRe + p, bIm + p, bRe + q, bIm + q, columns);
      };
      for (let i = 0; i < n; i++) for (let l = 0; l < i; l++) take(i, l);
      for (let i = n - 1; i >= 0; i--) {
        for (let l = i + 1; l < n; l++) take(i, l);
        const dr = x[re + i * n + i];
        const di = x[im + i * n + i];
        const size = dr * dr + di * di;
        for (let j = i * columns; j < (i + 1) * columns; j++) {
          const br = x[bRe + j];
          const bi = x[bIm + j];
          x[bRe + j] = (br * dr + bi * di) / size;
          x[bIm + j] = (bi * dr - br * di) / size;
        }
      }
    },
  };
}
