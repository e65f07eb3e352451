/** Sparse symmetric matrices: pattern from elements, assembly, products and sums. */
import { invariant } from "../outcome.ts";

/**
 * The lower triangle of a symmetric n x n matrix, diagonal included, column by column: the entries of column j are
 * rowIndex/values[colStart[j] .. colStart[j+1]-1], rows strictly ascending and never above the diagonal.
 */
export interface SparseSymmetric {
  readonly n: number;
  readonly colStart: Uint32Array;
  readonly rowIndex: Uint32Array;
  readonly values: Float64Array;
}

/**
 * A zero matrix with room for the dense blocks of all elements and for the whole diagonal.
 * elementDofs: for each element the index of each of its degrees of freedom, -1 where it is fixed (skipped).
 */
export function symmetricPattern(n: number, elementDofs: readonly Int32Array[]): SparseSymmetric {
  const elementStart = new Uint32Array(n + 1);
  for (const dofs of elementDofs) {
    for (const d of dofs) {
      invariant(d < n, () => `degree of freedom ${d} in a system of ${n}`);
      if (d >= 0) elementStart[d + 1]++;
    }
  }
  for (let i = 0; i < n; i++) elementStart[i + 1] += elementStart[i];
  const elementsOf = new Uint32Array(elementStart[n]);
  const fill = elementStart.slice(0, n);
  elementDofs.forEach((dofs, e) => {
    for (const d of dofs) if (d >= 0) elementsOf[fill[d]++] = e;
  });
  // Rows in ascending order append themselves to the columns they touch: so each column comes out sorted.
  const visit = (take: (row: number, column: number) => void): void => {
    const seen = new Int32Array(n).fill(-1);
    for (let row = 0; row < n; row++) {
      seen[row] = row;
      take(row, row);
      for (let q = elementStart[row]; q < elementStart[row + 1]; q++) {
        for (const d of elementDofs[elementsOf[q]]) {
          if (d >= 0 && d < row && seen[d] !== row) {
            seen[d] = row;
            take(row, d);
          }
        }
      }
    }
  };
  const colStart = new Uint32Array(n + 1);
  visit((_, column) => {
    colStart[column + 1]++;
  });
  for (let i = 0; i < n; i++) colStart[i + 1] += colStart[i];
  const rowIndex = new Uint32Array(colStart[n]);
  const next = colStart.slice(0, n);
  visit((row, column) => {
    rowIndex[next[column]++] = row;
  });
  return { n, colStart, rowIndex, values: new Float64Array(colStart[n]) };
}

/** Where entry (row, column) of the lower triangle is stored. */
function entryPlace(a: SparseSymmetric, row: number, column: number, hint: number): number {
  const end = a.colStart[column + 1];
  if (hint < end && a.rowIndex[hint] === row) return hint;
  let low = a.colStart[column];
  let high = end - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (a.rowIndex[middle] < row) low = middle + 1;
    else high = middle;
  }
  invariant(low < end && a.rowIndex[low] === row, () => `entry (${row}, ${column}) is not in the pattern`);
  return low;
}

/**
 * Adds a dense symmetric element matrix IN PLACE (the one documented exception to untouched arguments: assembly).
 * dofs: m indices, -1 = fixed; ke: m x m, row by row, of which only one triangle is read (ke[i m + j], i >= j).
 */
export function addElement(a: SparseSymmetric, dofs: Int32Array, ke: Float64Array): void {
  const m = dofs.length;
  invariant(ke.length === m * m, () => `an element matrix of ${ke.length} for ${m} degrees of freedom`);
  for (let j = 0; j < m; j++) {
    const dj = dofs[j];
    if (dj < 0) continue;
    let hint = a.colStart[dj];
    for (let i = 0; i < m; i++) {
      const di = dofs[i];
      if (di < dj) continue; // above the diagonal, or fixed
      if (di === dj && i < j) continue; // a degree of freedom listed twice: its pair is counted once, doubled below
      const value = i >= j ? ke[i * m + j] : ke[j * m + i];
      const place = entryPlace(a, di, dj, hint);
      a.values[place] += di === dj && i !== j ? 2 * value : value;
      hint = place + 1;
    }
  }
}

/**
 * y = A x. x and y: n x columns, column after column (so each column is contiguous).
 */
export function symmetricMultiply(
  a: SparseSymmetric,
  x: Float64Array,
  columns = 1,
  out: Float64Array = new Float64Array(a.n * columns),
): Float64Array {
  const { n, colStart, rowIndex, values } = a;
  invariant(x.length >= n * columns && out.length >= n * columns, () => "vectors shorter than the matrix");
  out.fill(0, 0, n * columns);
  for (let c = 0; c < columns; c++) {
    const base = c * n;
    for (let j = 0; j < n; j++) {
      const xj = x[base + j];
      let p = colStart[j];
      const end = colStart[j + 1];
      let sum = 0;
      if (p < end && rowIndex[p] === j) sum = values[p++] * xj;
      for (; p < end; p++) {
        const i = rowIndex[p];
        const v = values[p];
        sum += v * x[base + i];
        out[base + i] += v * xj;
      }
      out[base + j] += sum;
    }
  }
  return out;
}

/** alpha A + beta B, with the pattern of A where B has the same one, else with both merged. */
export function symmetricCombination(
  a: SparseSymmetric,
  alpha: number,
  b: SparseSymmetric,
  beta: number,
): SparseSymmetric {
  const n = a.n;
  invariant(b.n === n, () => `a sum of matrices of orders ${n} and ${b.n}`);
  const colStart = new Uint32Array(n + 1);
  const rowIndex = new Uint32Array(a.rowIndex.length + b.rowIndex.length);
  const values = new Float64Array(rowIndex.length);
  let count = 0;
  for (let j = 0; j < n; j++) {
    let p = a.colStart[j];
    let q = b.colStart[j];
    const pEnd = a.colStart[j + 1];
    const qEnd = b.colStart[j + 1];
    while (p < pEnd || q < qEnd) {
      const rowA = p < pEnd ? a.rowIndex[p] : n;
      const rowB = q < qEnd ? b.rowIndex[q] : n;
      const row = Math.min(rowA, rowB);
      rowIndex[count] = row;
      values[count++] =
        (rowA === row ? alpha * a.values[p++] : 0) + (rowB === row ? beta * b.values[q++] : 0);
    }
    colStart[j + 1] = count;
  }
  return { n, colStart, rowIndex: rowIndex.slice(0, count), values: values.slice(0, count) };
}
