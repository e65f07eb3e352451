/** The transpose of a rows x columns matrix, row by row. */
export function transposed(a: Float64Array, rows: number, columns: number): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = a[i * columns + j];
  return out;
}

/** Transposes an n x n matrix in place. */
export function transposeSquare(a: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const t = a[i * n + j];
      a[i * n + j] = a[j * n + i];
      a[j * n + i] = t;
    }
  }
}
