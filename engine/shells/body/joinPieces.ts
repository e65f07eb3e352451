import type { SparseSymmetric } from "#engine/numerics";
import type { MotionMap } from "./bodyModel.ts";

/** One matrix of a piece: several value arrays on one pattern, and the body motion of each of its motions. */
export interface JoinPart {
  readonly pattern: SparseSymmetric;
  readonly motion: Uint32Array;
  readonly values: readonly Float64Array[];
}

/**
 * Sum over the parts of T' A T on one common pattern (whole diagonal included), T turning rows into motions. All parts
 * carry the same number of value arrays; so many matrices come back.
 *
 * An entry a of motions i >= j stands for a (e_i e_j' + e_j e_i') off the diagonal, so that with e_i = sum w_p row_p each
 * pair of rows (p of i, q of j) gains a w_p w_q, twice where they are one and the same row.
 */
export function joinPieces(
  n: number,
  map: MotionMap,
  parts: readonly JoinPart[],
): readonly SparseSymmetric[] {
  const matrices = parts[0].values.length;
  const { start, row, weight } = map;
  /** Calls `take` with (lower row, upper column, factor, entry) of every contribution. */
  const each = (
    part: JoinPart,
    take: (r: number, c: number, factor: number, entry: number) => void,
  ): void => {
    const { pattern: a, motion } = part;
    for (let j = 0; j < a.n; j++) {
      const mj = motion[j];
      const j0 = start[mj];
      const j1 = start[mj + 1];
      if (j0 === j1) continue;
      for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
        const i = a.rowIndex[p];
        const mi = motion[i];
        const i0 = start[mi];
        const i1 = start[mi + 1];
        for (let u = i0; u < i1; u++) {
          const r = row[u];
          for (let v = i === j ? j0 : j0; v < j1; v++) {
            const c = row[v];
            if (i === j && v > u) break;
            const factor = weight[u] * weight[v] * (i !== j && r === c ? 2 : 1);
            if (r >= c) take(r, c, factor, p);
            else take(c, r, factor, p);
          }
        }
      }
    }
  };
  // contributions sorted by column, then row: first into rows, then row after row into columns
  const byRow = new Uint32Array(n + 1);
  for (const part of parts) each(part, (r) => byRow[r + 1]++);
  for (let r = 0; r < n; r++) byRow[r + 1]++; // the diagonal
  for (let r = 0; r < n; r++) byRow[r + 1] += byRow[r];
  const count = byRow[n];
  const column = new Uint32Array(count);
  const factor = new Float64Array(count);
  const source = new Int32Array(count);
  const owner = new Uint8Array(count);
  const next = byRow.slice(0, n);
  for (let r = 0; r < n; r++) {
    const k = next[r]++;
    column[k] = r;
    source[k] = -1;
  }
  parts.forEach((part, o) => {
    each(part, (r, c, f, entry) => {
      const k = next[r]++;
      column[k] = c;
      factor[k] = f;
      source[k] = entry;
      owner[k] = o;
    });
  });
  const inColumn = new Uint32Array(n + 1);
  for (let k = 0; k < count; k++) inColumn[column[k] + 1]++;
  for (let c = 0; c < n; c++) inColumn[c + 1] += inColumn[c];
  const order = new Uint32Array(count);
  const rowAt = new Uint32Array(count);
  const at = inColumn.slice(0, n);
  for (let r = 0; r < n; r++) {
    for (let k = byRow[r]; k < byRow[r + 1]; k++) {
      const to = at[column[k]]++;
      order[to] = k;
      rowAt[to] = r;
    }
  }
  const colStart = new Uint32Array(n + 1);
  const rowIndex = new Uint32Array(count);
  const values = Array.from({ length: matrices }, () => new Float64Array(count));
  let kept = 0;
  for (let c = 0; c < n; c++) {
    let last = -1;
    for (let t = inColumn[c]; t < inColumn[c + 1]; t++) {
      if (rowAt[t] !== last) {
        last = rowAt[t];
        rowIndex[kept++] = last;
      }
      const k = order[t];
      if (source[k] < 0) continue;
      const from = parts[owner[k]].values;
      for (let m = 0; m < matrices; m++) values[m][kept - 1] += factor[k] * from[m][source[k]];
    }
    colStart[c + 1] = kept;
  }
  const index = rowIndex.slice(0, kept);
  return values.map((v) => ({ n, colStart, rowIndex: index, values: v.slice(0, kept) }));
}
