import { invariant } from "../invariant.ts";
import type { FactorSizes } from "./factorRoom.ts";
import type { SupernodePartition } from "./supernodes.ts";
import type { SparseSymmetric } from "./symmetric.ts";

export type Pattern = Pick<SparseSymmetric, "n" | "colStart" | "rowIndex">;

/**
 * The pattern of a matrix with rows and columns in elimination order (`size` columns, fillers empty), columns as in
 * SparseSymmetric. source: index of each entry in the values of the matrix as it came; place: where it goes in the values
 * of the factor, front after front (layout in kernels/fronts.ts), that of supernode s from valueStart[s].
 */
export interface OrderedPattern {
  readonly n: number;
  readonly colStart: Uint32Array;
  readonly rowIndex: Uint32Array;
  readonly source: Int32Array;
  readonly place: Int32Array;
}

export function orderedPattern(
  a: Pattern,
  partition: SupernodePartition,
  sizes: FactorSizes,
): OrderedPattern {
  const { positionOf, size } = partition;
  const entries = a.rowIndex.length;
  // Twice bucketed: by row first, so that the columns then fill up with ascending rows.
  const rowStart = new Uint32Array(size + 1);
  const colStart = new Uint32Array(size + 1);
  for (let j = 0; j < a.n; j++) {
    const pj = positionOf[j];
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      const pi = positionOf[a.rowIndex[p]];
      if (pi > pj) {
        rowStart[pi + 1]++;
        colStart[pj + 1]++;
      } else {
        rowStart[pj + 1]++;
        colStart[pi + 1]++;
      }
    }
  }
  for (let i = 0; i < size; i++) {
    rowStart[i + 1] += rowStart[i];
    colStart[i + 1] += colStart[i];
  }
  const columnOf = new Uint32Array(entries);
  const byRow = new Int32Array(entries);
  const nextInRow = rowStart.slice(0, size);
  for (let j = 0; j < a.n; j++) {
    const pj = positionOf[j];
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      const pi = positionOf[a.rowIndex[p]];
      const at = nextInRow[Math.max(pi, pj)]++;
      columnOf[at] = Math.min(pi, pj);
      byRow[at] = p;
    }
  }
  const rowIndex = new Uint32Array(entries);
  const source = new Int32Array(entries);
  const nextInColumn = colStart.slice(0, size);
  for (let row = 0; row < size; row++) {
    for (let q = rowStart[row]; q < rowStart[row + 1]; q++) {
      const at = nextInColumn[columnOf[q]]++;
      rowIndex[at] = row;
      source[at] = byRow[q];
    }
  }
  const place = entryPlaces(colStart, rowIndex, partition, sizes.valueStart);
  return { n: size, colStart, rowIndex, source, place };
}

function entryPlaces(
  colStart: Uint32Array,
  rowIndex: Uint32Array,
  partition: SupernodePartition,
  valueStart: Float64Array,
): Int32Array {
  const { count, size, columnStart, rowStart, rowCount } = partition;
  const place = new Int32Array(rowIndex.length);
  const local = new Int32Array(size);
  const owner = new Int32Array(size).fill(-1);
  for (let s = 0; s < count; s++) {
    const first = columnStart[s];
    const w = columnStart[s + 1] - first;
    for (let k = 0; k < w; k++) {
      local[first + k] = k;
      owner[first + k] = s;
    }
    for (let i = 0, q = rowStart[s]; i < rowCount[s]; i++, q++) {
      local[partition.rowIndex[q]] = w + i;
      owner[partition.rowIndex[q]] = s;
    }
    for (let k = 0; k < w; k++) {
      for (let p = colStart[first + k]; p < colStart[first + k + 1]; p++) {
        const row = local[rowIndex[p]];
        invariant(
          owner[rowIndex[p]] === s,
          () => `entry (${rowIndex[p]}, ${first + k}) is outside the analysed pattern`,
        );
        place[p] = valueStart[s] + (row >> 2) * 4 * w + 4 * k + (row & 3);
      }
    }
  }
  return place;
}

/**
 * The values of a matrix in the order of the pattern; its own pattern must be the one that was ordered, or lie within it.
 * base: the pattern that was ordered.
 */
export function orderedValues(
  a: SparseSymmetric,
  base: Pattern,
  pattern: OrderedPattern,
  out: Float64Array,
): Float64Array {
  const { source } = pattern;
  const values = valuesOn(a, base);
  for (let q = 0; q < source.length; q++) out[q] = values[source[q]];
  return out;
}

/** The values of a on the pattern of base, which is the same or larger. */
export function valuesOn(a: SparseSymmetric, base: Pattern): Float64Array {
  if (a.rowIndex === base.rowIndex && a.colStart === base.colStart) return a.values;
  invariant(a.n === base.n, () => `a matrix of order ${a.n} on a pattern of order ${base.n}`);
  const out = new Float64Array(base.rowIndex.length);
  for (let j = 0; j < a.n; j++) {
    let q = base.colStart[j];
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      while (q < base.colStart[j + 1] && base.rowIndex[q] < a.rowIndex[p]) q++;
      invariant(
        q < base.colStart[j + 1] && base.rowIndex[q] === a.rowIndex[p],
        () => `entry (${a.rowIndex[p]}, ${j}) is not in the larger pattern`,
      );
      out[q] = a.values[p];
    }
  }
  return out;
}
