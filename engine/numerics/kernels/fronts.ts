/**
 * Dense work on the fronts of a supernodal factor L D L' with unit lower L.
 *
 * A STRIP is four rows side by side, stored column after column, four doubles a column. A front of w columns (w a
 * multiple of 4) and `strips` strips is stored strip after strip, each of w columns: the first w/4 strips are the
 * diagonal block, the others the rows below it; the last is filled up with rows of zeros.
 *
 *     entry (row i, column k):   (i >> 2) 4 w + 4 k + (i & 3)
 *
 * What a front leaves for its parent, the UPDATE matrix, is square with the rows below and stored by strips as well,
 * each only up to its diagonal tile: strip i starts at 8 i (i + 1), entry (i, k) at 8 s (s + 1) + 4 k + (i & 3), s = i >> 2.
 */
import type { KernelMemory } from "./kernelMemory.ts";

export interface FrontKernels {
  /**
   * Factors IN PLACE the w columns of the front at l. d: place of its w pivots (out); floors: of the smallest size at
   * which each pivot is accepted; definite: pivots must also be positive. scratch: scratchDoubles(w). Returns the column
   * that failed, or -1.
   */
  factor(
    l: number,
    w: number,
    strips: number,
    d: number,
    floors: number,
    scratch: number,
    definite: boolean,
  ): number;
  /**
   * u := u - p D p' IN PLACE for the `strips` strips below the diagonal block at p; scratch as in factor. fresh: what is
   * in u counts for nothing.
   */
  update(p: number, w: number, strips: number, d: number, u: number, scratch: number, fresh: boolean): void;
  /**
   * Adds a child's update matrix of `rows` rows to its parent's front at l (w columns) and update matrix at u.
   * target: place in indices of the parent's row for each row of the child, ascending, counted from its first column.
   */
  extendAdd(child: number, rows: number, target: number, l: number, w: number, u: number): void;
}

/** Four strips of 128 columns for the one twin, one of w columns for the other. */
export function scratchDoubles(w: number): number {
  return Math.max(4 * 4 * 128, 4 * w) + 8;
}

export function typescriptFronts({ numbers: x, indices }: KernelMemory): FrontKernels {
  return {
    factor(l, w, strips, d, floors, scratch, definite) {
      const stripSize = 4 * w;
      for (let j = 0; j < w; j += 4) {
        const own = l + (j >> 2) * stripSize;
        scaleStrip(x, own, d, j, scratch);
        subtractTile(x, own, scratch, j, own + 4 * j);
        const bad = factorTile(x, own + 4 * j, d + j, floors + j, definite);
        if (bad >= 0) return j + bad;
        for (let i = (j >> 2) + 1; i < strips; i++) {
          const strip = l + i * stripSize;
          subtractTile(x, strip, scratch, j, strip + 4 * j);
          solveTile(x, strip + 4 * j, own + 4 * j, d + j);
        }
      }
      return -1;
    },
    update(p, w, strips, d, u, scratch, fresh) {
      if (fresh) x.fill(0, u, u + 8 * strips * (strips + 1));
      for (let j = 0; j < strips; j++) {
        scaleStrip(x, p + 4 * j * w, d, w, scratch);
        for (let i = j; i < strips; i++)
          subtractTile(x, p + 4 * i * w, scratch, w, u + 8 * i * (i + 1) + 16 * j);
      }
    },
    extendAdd(child, rows, target, l, w, u) {
      for (let i = 0; i < rows; i++) {
        const s = i >> 2;
        let from = child + 8 * s * (s + 1) + (i & 3);
        const row = indices[target + i];
        const panelRow = l + (row >> 2) * 4 * w + (row & 3);
        const below = row - w;
        const updateRow = u + 8 * (below >> 2) * ((below >> 2) + 1) + (below & 3) - 4 * w;
        for (let j = 0; j <= i; j = (j + 1) | 0, from = (from + 4) | 0) {
          const column = indices[(target + j) | 0];
          x[((column < w ? panelRow : updateRow) + 4 * column) | 0] += x[from];
        }
      }
    },
  };
}

/** out := strip with each column times its pivot. */
function scaleStrip(x: Float64Array, strip: number, d: number, columns: number, out: number): void {
  for (let k = 0; k < columns; k++) {
    const pivot = x[d + k];
    for (let r = 0; r < 4; r++) x[out + 4 * k + r] = x[strip + 4 * k + r] * pivot;
  }
}

/** c := c - a b', 4 x 4, column by column; a and b strips of `depth` columns. Eight sums at a time, see numerics.md. */
export function subtractTile(x: Float64Array, a: number, b: number, depth: number, c: number): void {
  for (let half = 0; half < 4; half += 2) {
    let c00 = 0;
    let c10 = 0;
    let c20 = 0;
    let c30 = 0;
    let c01 = 0;
    let c11 = 0;
    let c21 = 0;
    let c31 = 0;
    const end = a + 4 * depth;
    for (let p = a | 0, q = (b + half) | 0; p < end; p = (p + 4) | 0, q = (q + 4) | 0) {
      const a0 = x[p];
      const a1 = x[(p + 1) | 0];
      const a2 = x[(p + 2) | 0];
      const a3 = x[(p + 3) | 0];
      const b0 = x[q];
      const b1 = x[(q + 1) | 0];
      c00 += a0 * b0;
      c10 += a1 * b0;
      c20 += a2 * b0;
      c30 += a3 * b0;
      c01 += a0 * b1;
      c11 += a1 * b1;
      c21 += a2 * b1;
      c31 += a3 * b1;
    }
    const to = c + 4 * half;
    x[to] -= c00;
    x[to + 1] -= c10;
    x[to + 2] -= c20;
    x[to + 3] -= c30;
    x[to + 4] -= c01;
    x[to + 5] -= c11;
    x[to + 6] -= c21;
    x[to + 7] -= c31;
  }
}

/** Factors the 4 x 4 diagonal tile at c; its upper half becomes zero, its diagonal one. */
function factorTile(x: Float64Array, c: number, d: number, floors: number, definite: boolean): number {
  for (let j = 0; j < 4; j++) {
    const pivot = x[c + 5 * j];
    if (!((definite ? pivot : Math.abs(pivot)) > x[floors + j])) return j;
    x[d + j] = pivot;
    for (let m = j + 1; m < 4; m++) {
      const share = x[c + 4 * j + m] / pivot;
      for (let i = m; i < 4; i++) x[c + 4 * m + i] -= share * x[c + 4 * j + i];
    }
    for (let i = 0; i < j; i++) x[c + 4 * j + i] = 0;
    x[c + 5 * j] = 1;
    for (let i = j + 1; i < 4; i++) x[c + 4 * j + i] /= pivot;
  }
  return -1;
}

/** c := c L^-T D^-1 with the factored diagonal tile at l. */
function solveTile(x: Float64Array, c: number, l: number, d: number): void {
  for (let r = 0; r < 4; r++) {
    const y0 = x[c + r];
    const y1 = x[c + 4 + r] - y0 * x[l + 1];
    const y2 = x[c + 8 + r] - y0 * x[l + 2] - y1 * x[l + 6];
    const y3 = x[c + 12 + r] - y0 * x[l + 3] - y1 * x[l + 7] - y2 * x[l + 11];
    x[c + r] = y0 / x[d];
    x[c + 4 + r] = y1 / x[d + 1];
    x[c + 8 + r] = y2 / x[d + 2];
    x[c + 12 + r] = y3 / x[d + 3];
  }
}
