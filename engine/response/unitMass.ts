import { complexSqrt, symmetricEigen } from "#engine/numerics";
import { timesTransposed } from "./coupledStructure.ts";
import type { ModalLosses } from "./modalLosses.ts";

/** Equations B - w^2, and forms, in coordinates whose mass is 1. */
export interface UnitMass {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly formsRe: Float64Array;
  readonly formsIm: Float64Array;
}

/**
 * A - w^2 (1 - i g g') turned into P A P - w^2 with P = (1 - i g g')^-1/2 = 1 + g T g', complex and symmetric. g g' has low rank,
 * so P is known in closed form: with S = g'g = V sigma V',
 *   T = V diag( ((1 - i sigma)^-1/2 - 1)/sigma ) V'
 * Forms f become f P.
 */
export function unitMass(
  losses: ModalLosses,
  count: number,
  formsRe: Float64Array,
  formsIm: Float64Array,
): UnitMass {
  const { inertial: g, width } = losses;
  const across = transposed(g, count, width);
  const s = symmetricEigen(timesTransposed(across, across, width, width, count), width);
  // h = g V: columns orthogonal, so that T is diagonal on them; what has no size is left out.
  const kept: { re: number; im: number; v: Float64Array }[] = [];
  for (let k = 0; k < width; k++) {
    const sigma = s.values[k];
    if (!(sigma > 1e-14)) continue;
    const root = complexSqrt({ re: 1, im: -sigma });
    const size = root.re ** 2 + root.im ** 2;
    kept.push({
      re: (root.re / size - 1) / sigma,
      im: -root.im / size / sigma,
      v: s.vectors.subarray(k * width, (k + 1) * width),
    });
  }
  const r = kept.length;
  const pick = new Float64Array(r * width);
  kept.forEach(({ v }, k) => {
    pick.set(v, k * width);
  });
  const h = timesTransposed(g, pick, count, r, width); // count x r
  const ht = transposed(h, count, r);
  const tRe = (k: number) => kept[k].re;
  const tIm = (k: number) => kept[k].im;
  // W = A h T; N = T (h'A h) T; P A P = A + h (W + h N/2)' + (W + h N/2) h'
  const ahRe = timesTransposed(losses.re, ht, count, r, count);
  const ahIm = timesTransposed(losses.im, ht, count, r, count);
  const midRe = timesTransposed(ht, transposed(ahRe, count, r), r, r, count);
  const midIm = timesTransposed(ht, transposed(ahIm, count, r), r, r, count);
  const nRe = new Float64Array(r * r);
  const nIm = new Float64Array(r * r);
  for (let a = 0; a < r; a++) {
    for (let b = 0; b < r; b++) {
      const tr = tRe(a) * tRe(b) - tIm(a) * tIm(b);
      const ti = tRe(a) * tIm(b) + tIm(a) * tRe(b);
      nRe[a * r + b] = 0.5 * (tr * midRe[a * r + b] - ti * midIm[a * r + b]);
      nIm[a * r + b] = 0.5 * (tr * midIm[a * r + b] + ti * midRe[a * r + b]);
    }
  }
  const zRe = timesTransposed(h, nRe, count, r, r);
  const zIm = timesTransposed(h, nIm, count, r, r);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < r; k++) {
      const at = i * r + k;
      zRe[at] += ahRe[at] * tRe(k) - ahIm[at] * tIm(k);
      zIm[at] += ahRe[at] * tIm(k) + ahIm[at] * tRe(k);
    }
  }
  const re = twoSided(losses.re, zRe, h, count, r);
  const im = twoSided(losses.im, zIm, h, count, r);
  const rows = formsRe.length / count;
  const fRe = timesTransposed(formsRe, ht, rows, r, count);
  const fIm = timesTransposed(formsIm, ht, rows, r, count);
  const outRe = formsRe.slice();
  const outIm = formsIm.slice();
  for (let d = 0; d < rows; d++) {
    for (let k = 0; k < r; k++) {
      const a = fRe[d * r + k] * tRe(k) - fIm[d * r + k] * tIm(k);
      const b = fRe[d * r + k] * tIm(k) + fIm[d * r + k] * tRe(k);
      for (let i = 0; i < count; i++) {
        outRe[d * count + i] += a * h[i * r + k];
        outIm[d * count + i] += b * h[i * r + k];
      }
    }
  }
  return { re, im, formsRe: outRe, formsIm: outIm };
}

/** a + z h' + h z'. */
function twoSided(a: Float64Array, z: Float64Array, h: Float64Array, n: number, r: number): Float64Array {
  const half = timesTransposed(z, h, n, n, r);
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) out[i * n + j] = a[i * n + j] + half[i * n + j] + half[j * n + i];
  return out;
}

function transposed(a: Float64Array, rows: number, columns: number): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = a[i * columns + j];
  return out;
}
