/**
 * Triangular solves with a supernodal factor L D L' (layouts in fronts.ts), one supernode a call.
 *
 * Right-hand sides stand in BLOCKS of four, interleaved: entry i of side c is at 4 i + c. Several blocks, `stride` apart,
 * share one reading of the factor, which is what a solve spends its time on. `rows` is the place in indices of the
 * positions of the rows below the supernode, filled up to a multiple of four with a position that holds zeros.
 */
import type { KernelMemory } from "./kernelMemory.ts";

export interface SolveKernels {
  /** x := D^-1 L^-1 x for the columns of one supernode, whose first position is `first`; d: place of its pivots. */
  forward(
    l: number,
    w: number,
    strips: number,
    d: number,
    x: number,
    stride: number,
    blocks: number,
    first: number,
    rows: number,
  ): void;
  /** x := L^-T x for the columns of one supernode. */
  backward(
    l: number,
    w: number,
    strips: number,
    x: number,
    stride: number,
    blocks: number,
    first: number,
    rows: number,
  ): void;
}

export function typescriptSolves({ numbers: m, indices }: KernelMemory): SolveKernels {
  return {
    forward(l, w, strips, d, x, stride, blocks, first, rows) {
      for (let b = 0; b < blocks; b++) {
        const all = x + b * stride;
        const own = all + 4 * first;
        for (let i = 0; i < strips; i++) {
          const strip = l + 4 * i * w;
          for (let r = 0; r < 4; r++) {
            const row = 4 * i + r;
            const inside = row < w;
            subtractRow(
              m,
              strip + r,
              inside ? row : w,
              own,
              inside ? own + 4 * row : all + 4 * indices[rows + row - w],
            );
          }
        }
        for (let k = 0; k < w; k++) for (let c = 0; c < 4; c++) m[own + 4 * k + c] /= m[d + k];
      }
    },
    backward(l, w, strips, x, stride, blocks, first, rows) {
      for (let b = 0; b < blocks; b++) {
        const all = x + b * stride;
        const own = all + 4 * first;
        for (let row = w; row < 4 * strips; row++)
          subtractColumns(m, l + 4 * (row >> 2) * w + (row & 3), w, all + 4 * indices[rows + row - w], own);
        for (let row = w - 1; row > 0; row--)
          subtractColumns(m, l + 4 * (row >> 2) * w + (row & 3), row, own + 4 * row, own);
      }
    },
  };
}

/** y := y - sum over k < depth of l[4 k] x[k], four sides. */
function subtractRow(m: Float64Array, l: number, depth: number, x: number, y: number): void {
  let a0 = 0;
  let a1 = 0;
  let a2 = 0;
  let a3 = 0;
  const end = l + 4 * depth;
  for (let p = l | 0, q = x | 0; p < end; p = (p + 4) | 0, q = (q + 4) | 0) {
    const u = m[p];
    a0 += u * m[q];
    a1 += u * m[(q + 1) | 0];
    a2 += u * m[(q + 2) | 0];
    a3 += u * m[(q + 3) | 0];
  }
  m[y] -= a0;
  m[y + 1] -= a1;
  m[y + 2] -= a2;
  m[y + 3] -= a3;
}

/** x[k] := x[k] - l[4 k] y for k < columns, four sides. */
function subtractColumns(m: Float64Array, l: number, columns: number, y: number, x: number): void {
  const y0 = m[y];
  const y1 = m[y + 1];
  const y2 = m[y + 2];
  const y3 = m[y + 3];
  const end = l + 4 * columns;
  for (let p = l | 0, q = x | 0; p < end; p = (p + 4) | 0, q = (q + 4) | 0) {
    const u = m[p];
    m[q] -= u * y0;
    m[(q + 1) | 0] -= u * y1;
    m[(q + 2) | 0] -= u * y2;
    m[(q + 3) | 0] -= u * y3;
  }
}
