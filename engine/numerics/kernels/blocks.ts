/**
 * Long vectors in BLOCKS of four, interleaved: entry i of vector c is at 4 i + c. Blocks of one family lie `stride`
 * doubles apart. Coefficients between two blocks are 4 x 4, row by row, 16 doubles.
 */
import type { KernelMemory } from "./kernelMemory.ts";

export interface BlockKernels {
  /** c := Q' Z for `count` blocks of q and `blocks` of z; that of q block b and z block k is at c + 16 (k count + b). */
  products(
    q: number,
    stride: number,
    count: number,
    z: number,
    zStride: number,
    blocks: number,
    rows: number,
    c: number,
  ): void;
  /** X := X - Q C, with C as products leaves it. */
  subtract(
    q: number,
    stride: number,
    count: number,
    c: number,
    x: number,
    xStride: number,
    blocks: number,
    rows: number,
  ): void;
  /** out := w t for one block and a 4 x 4 matrix t; out may be w. */
  transform(w: number, t: number, rows: number, out: number): void;
  /** y := A x for one block; A as SparseSymmetric, with its three arrays in the kernels' memory. */
  multiply(n: number, colStart: number, rowIndex: number, values: number, x: number, y: number): void;
}

export function typescriptBlocks({ numbers: m, indices }: KernelMemory): BlockKernels {
  return {
    products(q, stride, count, z, zStride, blocks, rows, c) {
      for (let k = 0; k < blocks; k++)
        for (let b = 0; b < count; b++)
          blockProducts(m, q + b * stride, z + k * zStride, rows, c + 16 * (k * count + b));
    },
    subtract(q, stride, count, c, x, xStride, blocks, rows) {
      for (let k = 0; k < blocks; k++)
        for (let b = 0; b < count; b++)
          subtractBlock(m, q + b * stride, c + 16 * (k * count + b), x + k * xStride, rows);
    },
    transform(w, t, rows, out) {
      const c = m.slice(t, t + 16);
      for (let i = 0; i < 4 * rows; i += 4) {
        const w0 = m[w + i];
        const w1 = m[w + i + 1];
        const w2 = m[w + i + 2];
        const w3 = m[w + i + 3];
        for (let j = 0; j < 4; j++)
          m[out + i + j] = w0 * c[j] + w1 * c[4 + j] + (w2 * c[8 + j] + w3 * c[12 + j]);
      }
    },
    multiply(n, colStart, rowIndex, values, x, y) {
      m.fill(0, y, y + 4 * n);
      for (let j = 0; j < n; j++) {
        const at = 4 * j;
        for (let p = indices[colStart + j]; p < indices[colStart + j + 1]; p++) {
          const v = m[values + p];
          const i = 4 * indices[rowIndex + p];
          for (let c = 0; c < 4; c++) m[y + at + c] += v * m[x + i + c];
          if (i !== at) for (let c = 0; c < 4; c++) m[y + i + c] += v * m[x + at + c];
        }
      }
    },
  };
}

function blockProducts(m: Float64Array, q: number, w: number, rows: number, c: number): void {
  for (let b = 0; b < 4; b += 2) {
    let s00 = 0;
    let s01 = 0;
    let s10 = 0;
    let s11 = 0;
    let s20 = 0;
    let s21 = 0;
    let s30 = 0;
    let s31 = 0;
    const end = q + 4 * rows;
    for (let i = q | 0, k = (w + b) | 0; i < end; i = (i + 4) | 0, k = (k + 4) | 0) {
      const q0 = m[i];
      const q1 = m[(i + 1) | 0];
      const q2 = m[(i + 2) | 0];
      const q3 = m[(i + 3) | 0];
      const w0 = m[k];
      const w1 = m[(k + 1) | 0];
      s00 += q0 * w0;
      s01 += q0 * w1;
      s10 += q1 * w0;
      s11 += q1 * w1;
      s20 += q2 * w0;
      s21 += q2 * w1;
      s30 += q3 * w0;
      s31 += q3 * w1;
    }
    m[c + b] = s00;
    m[c + b + 1] = s01;
    m[c + 4 + b] = s10;
    m[c + 5 + b] = s11;
    m[c + 8 + b] = s20;
    m[c + 9 + b] = s21;
    m[c + 12 + b] = s30;
    m[c + 13 + b] = s31;
  }
}

function subtractBlock(m: Float64Array, q: number, c: number, w: number, rows: number): void {
  for (let b = 0; b < 4; b += 2) {
    const c00 = m[c + b];
    const c01 = m[c + b + 1];
    const c10 = m[c + 4 + b];
    const c11 = m[c + 5 + b];
    const c20 = m[c + 8 + b];
    const c21 = m[c + 9 + b];
    const c30 = m[c + 12 + b];
    const c31 = m[c + 13 + b];
    const end = q + 4 * rows;
    for (let i = q | 0, k = (w + b) | 0; i < end; i = (i + 4) | 0, k = (k + 4) | 0) {
      const q0 = m[i];
      const q1 = m[(i + 1) | 0];
      const q2 = m[(i + 2) | 0];
      const q3 = m[(i + 3) | 0];
      m[k] -= q0 * c00 + q1 * c10 + (q2 * c20 + q3 * c30);
      m[(k + 1) | 0] -= q0 * c01 + q1 * c11 + (q2 * c21 + q3 * c31);
    }
  }
}
