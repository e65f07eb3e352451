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
 * A - w^2 (1 + m - i g g') turned into B - w^2, in two steps: A, g and forms f become R A R, R g and f R with R = (1 + m)^-1/2
 * by its series (m is some hundredths: the first term left out is 0.3 m^4), then P A P and f P with P = (1 - i g g')^-1/2 = 1 +
 * g T g', complex and symmetric. g g' has low rank, so P is known in closed form: with S = g'g = V sigma V',
 *   T = V diag( ((1 - i sigma)^-1/2 - 1)/sigma ) V'
 */
export function unitMass(
  losses: ModalLosses,
  count: number,
  formsRe: Float64Array,
  formsIm: Float64Array,
): UnitMass {
  const root = inverseRoot(losses.mass, count);
  const rows = formsRe.length / count;
  const bothSides = (a: Float64Array) =>
    timesTransposed(timesTransposed(root, a, count, count, count), root, count, count, count);
  const onRoot = (f: Float64Array) => timesTransposed(f, root, rows, count, count);
  const { width } = losses;
  const gt = timesTransposed(transposed(losses.inertial, count, width), root, width, count, count);
  return withoutInertialLoss(
    {
      re: bothSides(losses.re),
      im: bothSides(losses.im),
      formsRe: onRoot(formsRe),
      formsIm: onRoot(formsIm),
    },
    transposed(gt, width, count),
    width,
    count,
  );
}

/** (1 + m)^-1/2 to the third power of m. */
function inverseRoot(m: Float64Array, n: number): Float64Array {
  let sum: Float64Array = new Float64Array(n * n);
  for (let i = 0; i < n; i++) sum[i * (n + 1)] = -5 / 16;
  for (const next of [3 / 8, -1 / 2, 1]) {
    sum = timesTransposed(m, sum, n, n, n);
    for (let i = 0; i < n; i++) sum[i * (n + 1)] += next;
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) sum[i * n + j] = sum[j * n + i] = 0.5 * (sum[i * n + j] + sum[j * n + i]);
  }
  return sum;
}

function withoutInertialLoss(a: UnitMass, g: Float64Array, width: number, count: number): UnitMass {
  const { formsRe, formsIm } = a;
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
  const ahRe = timesTransposed(a.re, ht, count, r, count);
  const ahIm = timesTransposed(a.im, ht, count, r, count);
  const midRe = timesTransposed(ht, transposed(ahRe, count, r), r, r, count);
  const midIm = timesTransposed(ht, transposed(ahIm, count, r), r, r, count);
  const nRe = new Float64Array(r * r);
  const nIm = new Float64Array(r * r);
  for (let k = 0; k < r; k++) {
    for (let l = 0; l < r; l++) {
      const tr = tRe(k) * tRe(l) - tIm(k) * tIm(l);
      const ti = tRe(k) * tIm(l) + tIm(k) * tRe(l);
      nRe[k * r + l] = 0.5 * (tr * midRe[k * r + l] - ti * midIm[k * r + l]);
      nIm[k * r + l] = 0.5 * (tr * midIm[k * r + l] + ti * midRe[k * r + l]);
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
  const re = twoSided(a.re, zRe, h, count, r);
  const im = twoSided(a.im, zIm, h, count, r);
  const rows = formsRe.length / count;
  const fRe = timesTransposed(formsRe, ht, rows, r, count);
  const fIm = timesTransposed(formsIm, ht, rows, r, count);
  const outRe = formsRe.slice();
  const outIm = formsIm.slice();
  for (let d = 0; d < rows; d++) {
    for (let k = 0; k < r; k++) {
      const x = fRe[d * r + k] * tRe(k) - fIm[d * r + k] * tIm(k);
      const y = fRe[d * r + k] * tIm(k) + fIm[d * r + k] * tRe(k);
      for (let i = 0; i < count; i++) {
        outRe[d * count + i] += x * h[i * r + k];
        outIm[d * count + i] += y * h[i * r + k];
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
