import { choleskyDense, done, type Outcome, type SparseSymmetric } from "#engine/numerics";

/**
 * followers x 6 count: what follows, at rest under unit motions of the stations, -K_ff^-1 K_fs; zero where they are held. Followers, so
 * many `each` station, stand behind the stations' motions, station by station, and meet those of neighbours alone. Fails as `choleskyDense` does.
 */
export function beamFollowers(
  { colStart, rowIndex, values }: SparseSymmetric,
  count: number,
  each: number,
): Outcome<Float64Array> {
  const wide = 6 * count;
  const size = each * count;
  const own = new Float64Array(size * size);
  const x = new Float64Array(size * wide);
  for (let j = 0; j < wide + size; j++) {
    for (let p = colStart[j]; p < colStart[j + 1]; p++) {
      const i = rowIndex[p] - wide;
      if (i < 0) continue;
      if (j < wide) x[i * wide + j] = -values[p];
      else own[i * size + j - wide] = own[(j - wide) * size + i] = values[p];
    }
  }
  for (let i = 0; i < size; i++) if (own[i * size + i] === 0) own[i * size + i] = 1;
  const factor = choleskyDense(own, size);
  if (!factor.ok) return factor;
  const l = factor.value;
  const take = (to: number, from: number, f: number): void => {
    if (f === 0) return;
    for (let k = 0; k < wide; k++) x[to * wide + k] -= f * x[from * wide + k];
  };
  const part = (i: number): void => {
    const d = l[i * size + i];
    for (let k = 0; k < wide; k++) x[i * wide + k] /= d;
  };
  // a factor of neighbours' blocks is as narrow as they are
  const reach = 2 * each;
  for (let i = 0; i < size; i++) {
    for (let j = Math.max(0, i - reach); j < i; j++) take(i, j, l[i * size + j]);
    part(i);
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let j = i + 1; j < Math.min(size, i + reach); j++) take(i, j, l[j * size + i]);
    part(i);
  }
  return done(x);
}

/**
 * A matrix of stations (`wide` motions) and followers on the stations alone, the followers at rest: T' A T, full. `balanced`: they are at rest in this
 * matrix itself, and are under no force.
 */
export function followed(
  a: SparseSymmetric,
  following: Float64Array,
  wide: number,
  balanced: boolean,
): SparseSymmetric {
  const size = a.n - wide;
  // A T, row by row: stations, then followers
  const lines = wide + (balanced ? 0 : size);
  const half = new Float64Array(lines * wide);
  const spread = (i: number, j: number, value: number): void => {
    if (i >= lines) return;
    const to = half.subarray(i * wide, (i + 1) * wide);
    if (j < wide) to[j] += value;
    else {
      const line = following.subarray((j - wide) * wide, (j - wide + 1) * wide);
      for (let k = 0; k < wide; k++) to[k] += value * line[k];
    }
  };
  for (let j = 0; j < wide + size; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      if (a.values[p] === 0) continue;
      spread(a.rowIndex[p], j, a.values[p]);
      if (a.rowIndex[p] !== j) spread(j, a.rowIndex[p], a.values[p]);
    }
  }
  for (let f = 0; f < lines - wide; f++) {
    const line = half.subarray((wide + f) * wide, (wide + f + 1) * wide);
    for (let i = 0; i < wide; i++) {
      const t = following[f * wide + i];
      if (t === 0) continue;
      const to = half.subarray(i * wide, i * wide + i + 1);
      for (let k = 0; k <= i; k++) to[k] += t * line[k];
    }
  }
  const colStart = new Uint32Array(wide + 1);
  const rowIndex = new Uint32Array((wide * (wide + 1)) / 2);
  const values = new Float64Array(rowIndex.length);
  for (let j = 0, p = 0; j < wide; j++) {
    for (let i = j; i < wide; i++, p++) {
      rowIndex[p] = i;
      values[p] = half[i * wide + j];
    }
    colStart[j + 1] = p;
  }
  return { n: wide, colStart, rowIndex, values };
}
