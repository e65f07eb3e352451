/** Sparse symmetric matrices: pattern from elements, assembly, products and sums. */
import { invariant } from "../invariant.ts";

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
  // The columns that each row touches left of the diagonal, row after row; then turned over: rows in ascending order
  // append themselves to their columns, so that each column comes out sorted.
  const most = elementDofs.reduce((sum, dofs) => sum + (dofs.length * (dofs.length - 1)) / 2, 0);
  const touched = new Uint32Array(most);
  const rowEnd = new Uint32Array(n);
  const colStart = new Uint32Array(n + 1);
  const seen = new Int32Array(n).fill(-1);
  let count = 0;
  for (let row = 0; row < n; row++) {
    seen[row] = row;
    colStart[row + 1]++;
    for (let q = elementStart[row]; q < elementStart[row + 1]; q++) {
      const dofs = elementDofs[elementsOf[q]];
      for (let k = 0; k < dofs.length; k++) {
        const d = dofs[k];
        if (d < 0 || d >= row || seen[d] === row) continue;
        seen[d] = row;
        touched[count++] = d;
        colStart[d + 1]++;
      }
    }
    rowEnd[row] = count;
  }
  for (let i = 0; i < n; i++) colStart[i + 1] += colStart[i];
  const rowIndex = new Uint32Array(colStart[n]);
  const next = colStart.slice(0, n);
  for (let row = 0, p = 0; row < n; row++) {
    rowIndex[next[row]++] = row;
    for (; p < rowEnd[row]; p++) rowIndex[next[touched[p]]++] = row;
  }
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
 * Adds dense symmetric element matrices of the same degrees of freedom, each to its own matrix, IN PLACE (the one
 * documented exception to untouched arguments: assembly). The matrices share the pattern (colStart, rowIndex) of the
 * first. dofs: m indices, -1 = fixed; elements: m x m each, row by row, of which only one triangle is read
 * (ke[i m + j], i >= j).
 */
export function addElements(
  matrices: readonly SparseSymmetric[],
  dofs: Int32Array,
  elements: readonly Float64Array[],
): void {
  const m = dofs.length;
  const [a] = matrices;
  for (const [k, ke] of elements.entries()) {
    invariant(ke.length === m * m, () => `an element matrix of ${ke.length} for ${m} degrees of freedom`);
    invariant(matrices[k].rowIndex === a.rowIndex, () => "matrices of different patterns");
  }
  for (let j = 0; j < m; j++) {
    const dj = dofs[j];
    if (dj < 0) continue;
    let hint = a.colStart[dj];
    for (let i = 0; i < m; i++) {
      const di = dofs[i];
      if (di < dj) continue; // above the diagonal, or fixed
      if (di === dj && i < j) continue; // a degree of freedom listed twice: its pair is counted once, doubled below
      const from = i >= j ? i * m + j : j * m + i;
      const times = di === dj && i !== j ? 2 : 1;
      const place = entryPlace(a, di, dj, hint);
      for (let k = 0; k < elements.length; k++) matrices[k].values[place] += times * elements[k][from];
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

/**
 * x' A x for each of `count` vectors, vector after vector (count x n). Four are taken at a time, so that A is read a
 * quarter as often.
 */
export function quadraticForms(a: SparseSymmetric, x: Float64Array, count: number): Float64Array {
  const { n, colStart, rowIndex, values } = a;
  invariant(x.length >= n * count, () => `${x.length} numbers for ${count} vectors of ${n}`);
  const out = new Float64Array(count);
  const four = new Float64Array(4 * n); // the four side by side, entry after entry
  for (let first = 0; first < count; first += 4) {
    const width = Math.min(4, count - first);
    four.fill(0);
    for (let c = 0; c < width; c++) for (let i = 0; i < n; i++) four[4 * i + c] = x[(first + c) * n + i];
    const sums = new Float64Array(4);
    for (let j = 0; j < n; j++) {
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let p = colStart[j]; p < colStart[j + 1]; p++) {
        const i = rowIndex[p];
        const v = i === j ? 0.5 * values[p] : values[p];
        s0 += v * four[4 * i];
        s1 += v * four[4 * i + 1];
        s2 += v * four[4 * i + 2];
        s3 += v * four[4 * i + 3];
      }
      sums[0] += s0 * four[4 * j];
      sums[1] += s1 * four[4 * j + 1];
      sums[2] += s2 * four[4 * j + 2];
      sums[3] += s3 * four[4 * j + 3];
    }
    for (let c = 0; c < width; c++) out[first + c] = 2 * sums[c];
  }
  return out;
}
