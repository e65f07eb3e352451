import { transposed, transposeSquare } from "#engine/numerics";
import { timesTransposed } from "./coupledStructure.ts";
import type { ModalLosses } from "./modalLosses.ts";

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
  const li = timesTransposed(losses.inertial, losses.inertial, n, n, losses.width);
  for (let k = 0; k < n * n; k++) li[k] = -li[k];
  for (let i = 0; i < n; i++) lr[i * (n + 1)] += 1;
  factor(lr, li, n);
  const re = losses.re.slice();
  const im = losses.im.slice();
  for (let pass = 0; pass < 2; pass++) {
    forward(lr, li, n, re, im, n);
    transposeSquare(re, n);
    transposeSquare(im, n);
  }
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

/** X := L^-1 X, X n x width row by row. */
function forward(
  lr: Float64Array,
  li: Float64Array,
  n: number,
  xr: Float64Array,
  xi: Float64Array,
  width: number,
): void {
  for (let i = 0; i < n; i++) {
    const to = (i * width) | 0;
    let j = 0;
    for (; j + 1 < i; j += 2) {
      const a = lr[i * n + j];
      const b = li[i * n + j];
      const c = lr[i * n + j + 1];
      const d = li[i * n + j + 1];
      const from = (j * width) | 0;
      const next = (from + width) | 0;
      for (let k = 0; k < width; k = (k + 1) | 0) {
        const u = xr[(from + k) | 0];
        const v = xi[(from + k) | 0];
        const p = xr[(next + k) | 0];
        const q = xi[(next + k) | 0];
        xr[(to + k) | 0] -= a * u - b * v + c * p - d * q;
        xi[(to + k) | 0] -= a * v + b * u + c * q + d * p;
      }
    }
    if (j < i) {
      const a = lr[i * n + j];
      const b = li[i * n + j];
      const from = j * width;
      for (let k = 0; k < width; k++) {
        const u = xr[from + k];
        const v = xi[from + k];
        xr[to + k] -= a * u - b * v;
        xi[to + k] -= a * v + b * u;
      }
    }
    const a = lr[i * n + i];
    const b = li[i * n + i];
    for (let k = 0; k < width; k++) {
      const u = xr[to + k];
      const v = xi[to + k];
      xr[to + k] = a * u - b * v;
      xi[to + k] = a * v + b * u;
    }
  }
}
