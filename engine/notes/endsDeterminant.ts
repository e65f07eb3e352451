import { type EndsScratch, endsSlot } from "./endsScratch.ts";

/** Place of entry (i, j) in the upper half of a symmetric 4 x 4, times two. */
const half = [0, 2, 4, 6, 2, 8, 10, 12, 4, 10, 14, 16, 6, 12, 16, 18] as const;

/** det(I + Z G), adj(I + Z G) by minors of two rows, and the slope tr(adj (Z' G + Z G')). */
export function endsDeterminant(s: EndsScratch): void {
  const { out, steep, ends, matrix: m, minors } = s;
  for (let i = 0; i < 4; i++) {
    const zr = out[i & 2]!;
    const zi = out[(i & 2) + 1]!;
    for (let j = 0; j < 4; j++) {
      const k = 4 * i + j;
      const g = endsSlot.compliance + half[k]!;
      m[2 * k] = zr * out[g]! - zi * out[g + 1]! + (i === j ? 1 : 0);
      m[2 * k + 1] = zr * out[g + 1]! + zi * out[g]!;
    }
  }
  // minors of rows 0 and 1, then 2 and 3, columns 01 02 03 12 13 23
  for (let r = 0; r < 2; r++) {
    const p = 16 * r;
    const q = p + 8;
    let k = 12 * r;
    for (let i = 0; i < 6; i += 2) {
      for (let j = i + 2; j < 8; j += 2, k += 2) {
        const ar = m[p + i]!;
        const ai = m[p + i + 1]!;
        const br = m[q + j]!;
        const bi = m[q + j + 1]!;
        const cr = m[p + j]!;
        const ci = m[p + j + 1]!;
        const dr = m[q + i]!;
        const di = m[q + i + 1]!;
        minors[k] = ar * br - ai * bi - (cr * dr - ci * di);
        minors[k + 1] = ar * bi + ai * br - (cr * di + ci * dr);
      }
    }
  }
  let fr = 0;
  let fi = 0;
  for (let k = 0; k < 12; k += 2) {
    const sign = k === 2 || k === 8 ? -1 : 1;
    const ar = minors[k]!;
    const ai = minors[k + 1]!;
    const br = minors[22 - k]!;
    const bi = minors[23 - k]!;
    fr += sign * (ar * br - ai * bi);
    fi += sign * (ar * bi + ai * br);
  }
  out[endsSlot.value] = fr;
  out[endsSlot.value + 1] = fi;
  // adj_ij = cofactor_ji: row j struck out, column i struck out
  for (let j = 0; j < 4; j++) {
    const partner = 8 * (j ^ 1);
    const low = j < 2 ? 12 : 0;
    for (let i = 0; i < 4; i++) {
      let ar = 0;
      let ai = 0;
      let sign = (i + j) % 2 === 0 ? 1 : -1;
      for (let k = 0; k < 4; k++) {
        if (k === i) continue;
        const n = low + pairAt[4 * i + k]!;
        const pr = m[partner + 2 * k]!;
        const pi = m[partner + 2 * k + 1]!;
        ar += sign * (pr * minors[n]! - pi * minors[n + 1]!);
        ai += sign * (pr * minors[n + 1]! + pi * minors[n]!);
        sign = -sign;
      }
      const to = endsSlot.adjoint + 2 * (4 * i + j);
      out[to] = ar;
      out[to + 1] = ai;
    }
  }
  let tr = 0;
  let ti = 0;
  for (let j = 0; j < 4; j++) {
    const zr = out[j & 2]!;
    const zi = out[(j & 2) + 1]!;
    const er = ends[j & 2]!;
    const ei = ends[(j & 2) + 1]!;
    for (let i = 0; i < 4; i++) {
      const h = half[4 * j + i]!;
      const g = endsSlot.compliance + h;
      const a = endsSlot.adjoint + 2 * (4 * i + j);
      const vr = er * out[g]! - ei * out[g + 1]! + zr * steep[h]! - zi * steep[h + 1]!;
      const vi = er * out[g + 1]! + ei * out[g]! + zr * steep[h + 1]! + zi * steep[h]!;
      tr += out[a]! * vr - out[a + 1]! * vi;
      ti += out[a]! * vi + out[a + 1]! * vr;
    }
  }
  out[endsSlot.slope] = tr;
  out[endsSlot.slope + 1] = ti;
}

/** By struck column i and expanded column k: place of the minor of the two columns left, times two. */
const pairAt: readonly number[] = (() => {
  const place = new Map<string, number>();
  let next = 0;
  for (let i = 0; i < 4; i++) for (let j = i + 1; j < 4; j++) place.set(`${i}${j}`, 2 * next++);
  return Array.from({ length: 16 }, (_, at) => {
    const left = [0, 1, 2, 3].filter((c) => c !== at >> 2 && c !== at % 4);
    return left.length === 2 ? place.get(left.join(""))! : 0;
  });
})();
