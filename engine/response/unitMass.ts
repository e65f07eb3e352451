import { transposed, transposeSquare } from "#engine/numerics";
import type { ModalLosses } from "./modalLosses.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** Equations B - w^2 and forms in coordinates whose mass is 1; complex and symmetric. */
export interface UnitMass {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly formsRe: Float64Array;
  readonly formsIm: Float64Array;
}

/**
 * A - w^2 (1 + m - i g g') turned into L^-1 A L^-T - w^2, and forms f into f L^-T, with 1 + m - i g g' = L L', no conjugates. Its
 * real part is positive definite (m is some hundredths), so no pivot vanishes. L is near 1, so A stays nearly diagonal.
 */
export function unitMass(
  losses: ModalLosses,
  count: number,
  formsRe: Float64Array,
  formsIm: Float64Array,
): UnitMass {
  const n = count;
  const lr = losses.mass.slice();
  const li = timesTransposed(losses.inertial, losses.inertial, n, n, losses.width, true);
  for (let k = 0; k < n * n; k++) li[k] = -li[k];
  for (let i = 0; i < n; i++) lr[i * (n + 1)] += 1;
  factor(lr, li, n);
  const re = losses.re.slice();
  const im = losses.im.slice();
  forward(lr, li, n, re, im, n);
  transposeSquare(re, n);
  transposeSquare(im, n);
  // symmetric: from the diagonal on is enough
  forward(lr, li, n, re, im, n, true);
  mirror(re, n);
  mirror(im, n);
  const rows = formsRe.length / n;
  // Forms as columns, so that a step of the substitution runs along all of them.
  const fr = transposed(formsRe, rows, n);
  const fi = transposed(formsIm, rows, n);
  forward(lr, li, n, fr, fi, rows);
  return { re, im, formsRe: transposed(fr, n, rows), formsIm: transposed(fi, n, rows) };
}

/** Lower triangle becomes L, its diagonal 1/L_ii. */
function factor(lr: Float64Array, li: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let j = 0; j <= i; j++) {
      const other = j * n;
      let a = lr[row + j];
      let b = li[row + j];
      for (let k = 0; k < j; k++) {
        a -= lr[row + k] * lr[other + k] - li[row + k] * li[other + k];
        b -= lr[row + k] * li[other + k] + li[row + k] * lr[other + k];
      }
      if (j < i) {
        lr[row + j] = a * lr[other + j] - b * li[other + j];
        li[row + j] = a * li[other + j] + b * lr[other + j];
        continue;
      }
      // 1/sqrt(a + i b), the root with a positive real part.
      const size = Math.hypot(a, b);
      const c = Math.sqrt((size + a) / 2);
      lr[row + i] = c / size;
      li[row + i] = -b / (2 * c) / size;
    }
  }
}

/** The upper triangle into the lower. */
function mirror(a: Float64Array, n: number): void {
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) a[i * n + j] = a[j * n + i];
}

/** X := L^-1 X, X n x width row by row; three rows before at a time. `above`: only what lies on and above the diagonal. */
function forward(
  lr: Float64Array,
  li: Float64Array,
  n: number,
  xr: Float64Array,
  xi: Float64Array,
  width: number,
  above = false,
): void {
  for (let i = 0; i < n; i++) {
    const first = (i * width + (above ? i : 0)) | 0;
    const end = ((i + 1) * width) | 0;
    let j = 0;
    for (; j + 2 < i; j += 3) {
      const at = i * n + j;
      const a = lr[at];
      const b = li[at];
      const c = lr[at + 1];
      const d = li[at + 1];
      const e = lr[at + 2];
      const f = li[at + 2];
      const back = ((i - j) * width) | 0;
      const one = (back - width) | 0;
      const two = (one - width) | 0;
      for (let k = first; k < end; k = (k + 1) | 0) {
        const u = xr[(k - back) | 0];
        const v = xi[(k - back) | 0];
        const p = xr[(k - one) | 0];
        const q = xi[(k - one) | 0];
        const s = xr[(k - two) | 0];
        const t = xi[(k - two) | 0];
        xr[k] -= a * u - b * v + c * p - d * q + e * s - f * t;
        xi[k] -= a * v + b * u + c * q + d * p + e * t + f * s;
      }
    }
    for (; j < i; j++) {
      const a = lr[i * n + j];
      const b = li[i * n + j];
      const back = ((i - j) * width) | 0;
      for (let k = first; k < end; k = (k + 1) | 0) {
        const u = xr[(k - back) | 0];
        const v = xi[(k - back) | 0];
        xr[k] -= a * u - b * v;
        xi[k] -= a * v + b * u;
      }
    }
    const a = lr[i * n + i];
    const b = li[i * n + i];
    for (let k = first; k < end; k = (k + 1) | 0) {
      const u = xr[k];
      const v = xi[k];
      xr[k] = a * u - b * v;
      xi[k] = a * v + b * u;
    }
  }
}
