import { packedLength } from "./projectChange.ts";

/** A vector of which less than this is left beside those before it, by M0, adds nothing. */
const dependent = 1e-5;

/** New columns as combinations of old ones: column c = sum over p in start[c] .. start[c+1]-1 of weight[p] old[p's index]. */
export interface Mix {
  readonly start: Uint32Array;
  readonly index: Uint32Array;
  readonly weight: Float64Array;
}

/**
 * Makes groups of columns M0-orthonormal: mass is the packed Gram matrix of all old columns, the first `fixed` of which
 * stay as they are. Groups come one after the other; of two neighbours (corrections and probes of one parameter: groups 1
 * and 2, 3 and 4 ...) the second is made orthogonal to the first; different parameters are not. Dependent columns are
 * left out. starts: first new column of each group, and the end.
 */
export function blockBasis(
  mass: Float64Array,
  fixed: number,
  groups: readonly number[],
): { readonly mix: Mix; readonly starts: Uint32Array } {
  const start = [0];
  const index: number[] = [];
  const weight: number[] = [];
  for (let i = 0; i < fixed; i++) {
    index.push(i);
    weight.push(1);
    start.push(index.length);
  }
  const at = (i: number, j: number): number => mass[i > j ? packedLength(i) + j : packedLength(j) + i];
  const starts: number[] = [];
  let old = fixed;
  let first = fixed;
  let made: Float64Array[] = [];
  for (const [g, size] of groups.entries()) {
    starts.push(start.length - 1);
    if (g === 0 || g % 2 === 1) {
      first = old;
      made = [];
    }
    const whole = old + size - first;
    const product = (x: Float64Array, y: Float64Array): number => {
      let sum = 0;
      for (let i = 0; i < x.length; i++) {
        if (x[i] === 0) continue;
        for (let j = 0; j < y.length; j++) if (y[j] !== 0) sum += x[i] * y[j] * at(first + i, first + j);
      }
      return sum;
    };
    for (let c = 0; c < size; c++, old++) {
      const x = new Float64Array(whole);
      const before = at(old, old);
      if (!(before > 0)) continue;
      x[old - first] = 1 / Math.sqrt(before);
      for (let pass = 0; pass < 2; pass++) {
        for (const other of made) {
          const f = product(other, x);
          for (let i = 0; i < other.length; i++) x[i] -= f * other[i];
        }
      }
      const left = product(x, x);
      if (!(left > dependent ** 2)) continue;
      const unit = x.map((v) => v / Math.sqrt(left));
      made.push(unit);
      unit.forEach((v, i) => {
        if (v === 0) return;
        index.push(first + i);
        weight.push(v);
      });
      start.push(index.length);
    }
  }
  starts.push(start.length - 1);
  return {
    mix: {
      start: Uint32Array.from(start),
      index: Uint32Array.from(index),
      weight: Float64Array.from(weight),
    },
    starts: Uint32Array.from(starts),
  };
}

/** The new columns themselves, n by vector. */
export function combined(old: Float64Array, mix: Mix, count: number, n: number): Float64Array {
  const out = new Float64Array(count * n);
  const vector = (k: number): Float64Array => old.subarray(k * n, (k + 1) * n);
  for (let c = 0; c < count; c++) {
    const to = out.subarray(c * n, (c + 1) * n);
    const end = mix.start[c + 1];
    let p = mix.start[c];
    // four at a time: the sum is the longest way to and fro
    for (; p + 3 < end; p += 4) {
      const [a, b, d, e] = [0, 1, 2, 3].map((q) => vector(mix.index[p + q]));
      const [wa, wb, wd, we] = mix.weight.subarray(p, p + 4);
      for (let i = 0; i < n; i++) to[i] += wa * a[i] + wb * b[i] + (wd * d[i] + we * e[i]);
    }
    for (; p < end; p++) {
      const w = mix.weight[p];
      const from = vector(mix.index[p]);
      for (let i = 0; i < n; i++) to[i] += w * from[i];
    }
  }
  return out;
}

/** A packed symmetric matrix of the old columns in the new ones. */
export function mixed(a: Float64Array, mix: Mix, before: number, count: number): Float64Array {
  const half = new Float64Array(before * count); // old x new
  for (let i = 0; i < before; i++) {
    for (let c = 0; c < count; c++) {
      let sum = 0;
      for (let p = mix.start[c]; p < mix.start[c + 1]; p++) {
        const j = mix.index[p];
        sum += mix.weight[p] * a[i > j ? packedLength(i) + j : packedLength(j) + i];
      }
      half[i * count + c] = sum;
    }
  }
  const out = new Float64Array(packedLength(count));
  for (let r = 0; r < count; r++) {
    for (let p = mix.start[r]; p < mix.start[r + 1]; p++) {
      const w = mix.weight[p];
      const from = mix.index[p] * count;
      for (let c = 0; c <= r; c++) out[packedLength(r) + c] += w * half[from + c];
    }
  }
  return out;
}
