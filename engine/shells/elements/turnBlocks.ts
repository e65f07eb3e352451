/**
 * Turns a symmetric 18 x 18 element matrix (ux, uy, uz, rx, ry, rz by corner) from the element's own axes to the frame
 * of the assembly, in place: each 3 x 3 block a becomes F' a F, the rows of F being the element's axes x, y, normal.
 */
export function turnBlocks(a: Float64Array, frame: Float64Array): void {
  const f0 = frame[0];
  const f1 = frame[1];
  const f2 = frame[2];
  const f3 = frame[3];
  const f4 = frame[4];
  const f5 = frame[5];
  const f6 = frame[6];
  const f7 = frame[7];
  const f8 = frame[8];
  for (let row = 0; row < 18; row += 3) {
    for (let column = 0; column <= row; column += 3) {
      const p = 18 * row + column;
      const a00 = a[p] * f0 + a[p + 1] * f3 + a[p + 2] * f6;
      const a01 = a[p] * f1 + a[p + 1] * f4 + a[p + 2] * f7;
      const a02 = a[p] * f2 + a[p + 1] * f5 + a[p + 2] * f8;
      const a10 = a[p + 18] * f0 + a[p + 19] * f3 + a[p + 20] * f6;
      const a11 = a[p + 18] * f1 + a[p + 19] * f4 + a[p + 20] * f7;
      const a12 = a[p + 18] * f2 + a[p + 19] * f5 + a[p + 20] * f8;
      const a20 = a[p + 36] * f0 + a[p + 37] * f3 + a[p + 38] * f6;
      const a21 = a[p + 36] * f1 + a[p + 37] * f4 + a[p + 38] * f7;
      const a22 = a[p + 36] * f2 + a[p + 37] * f5 + a[p + 38] * f8;
      const q = 18 * column + row;
      a[p] = a[q] = f0 * a00 + f3 * a10 + f6 * a20;
      a[p + 1] = a[q + 18] = f0 * a01 + f3 * a11 + f6 * a21;
      a[p + 2] = a[q + 36] = f0 * a02 + f3 * a12 + f6 * a22;
      a[p + 18] = a[q + 1] = f1 * a00 + f4 * a10 + f7 * a20;
      a[p + 19] = a[q + 19] = f1 * a01 + f4 * a11 + f7 * a21;
      a[p + 20] = a[q + 37] = f1 * a02 + f4 * a12 + f7 * a22;
      a[p + 36] = a[q + 2] = f2 * a00 + f5 * a10 + f8 * a20;
      a[p + 37] = a[q + 20] = f2 * a01 + f5 * a11 + f8 * a21;
      a[p + 38] = a[q + 38] = f2 * a02 + f5 * a12 + f8 * a22;
    }
  }
}

/** The same for a row vector over the 18 motions. */
export function turnRow(a: Float64Array, frame: Float64Array): void {
  for (let b = 0; b < 18; b += 3) {
    const u = a[b];
    const v = a[b + 1];
    const w = a[b + 2];
    a[b] = u * frame[0] + v * frame[3] + w * frame[6];
    a[b + 1] = u * frame[1] + v * frame[4] + w * frame[7];
    a[b + 2] = u * frame[2] + v * frame[5] + w * frame[8];
  }
}
