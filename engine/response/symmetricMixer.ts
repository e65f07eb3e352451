/**
 * y := (sum of weights x tables) x, for symmetric tables (size x size, one after the other): x and y are `size` numbers of an array
 * from a place on. The mixed table is kept from one call to the next and made anew only for other weights: beyond a table's
 * ends they stay the same.
 */
export function symmetricMixer(
  tables: Float64Array,
  size: number,
): (weights: Float64Array, from: Float64Array, at: number, to: Float64Array, place: number) => void {
  const lower = lowerTriangles(tables, size);
  const own = new Float64Array((size * (size + 1)) >> 1);
  let last: Float64Array = new Float64Array(0);
  return (weights, from, at, to, place) => {
    if (!same(weights, last)) mixLower(lower, weights, own);
    last = weights;
    timesSymmetric(own, size, from, at, to, place);
  };
}

function same(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Row by row, diagonals included. */
function lowerTriangles(tables: Float64Array, size: number): Float64Array {
  const count = size === 0 ? 0 : tables.length / (size * size);
  const out = new Float64Array((count * size * (size + 1)) >> 1);
  let k = 0;
  for (let t = 0; t < count; t++)
    for (let i = 0; i < size; i++) for (let j = 0; j <= i; j++) out[k++] = tables[(t * size + i) * size + j];
  return out;
}

/** Two tables at a time. */
function mixLower(lower: Float64Array, weights: Float64Array, out: Float64Array): void {
  const size = out.length;
  out.fill(0);
  const used: number[] = [];
  for (let t = 0; t < weights.length; t++) if (weights[t] !== 0) used.push(t);
  for (let u = 0; u < used.length; u += 2) {
    const v = Math.min(u + 1, used.length - 1);
    const f = weights[used[u]];
    const g = v > u ? weights[used[v]] : 0;
    const a = (used[u] * size) | 0;
    const b = (used[v] * size) | 0;
    for (let k = 0; k < size; k = (k + 1) | 0) out[k] += f * lower[(a + k) | 0] + g * lower[(b + k) | 0];
  }
}

function timesSymmetric(
  lower: Float64Array,
  size: number,
  from: Float64Array,
  at: number,
  to: Float64Array,
  place: number,
): void {
  let k = 0;
  for (let i = 0; i < size; i++) {
    const x = from[at + i];
    let sum = 0;
    for (let j = 0; j < i; j = (j + 1) | 0) {
      const a = lower[k];
      k = (k + 1) | 0;
      sum += a * from[(at + j) | 0];
      to[(place + j) | 0] += a * x;
    }
    to[place + i] = sum + lower[k] * x;
    k = (k + 1) | 0;
  }
}
