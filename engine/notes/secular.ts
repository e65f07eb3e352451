import { cellOf } from "./bodyCells.ts";
import type { CrownSystem } from "./crownSystem.ts";

/** Slots of the scratch array that `secular` fills: real part, then imaginary part. */
export const slot = {
  end: 0 /* D, N/m */,
  endSlope: 2,
  xx: 4 /* G, m/N */,
  xy: 6,
  yy: 8,
  value: 10 /* f = det[I + D G] */,
  slope: 12 /* df/dlambda */,
  size: 14,
} as const;

/** D and dD/dlambda at lambda = (re, im), into `out` (see `slot`). */
export function endForce(c: CrownSystem, re: number, im: number, out: Float64Array): void {
  // string: S = sum c/(lambda_n - lambda) with tail, D = K - lambda m - lambda^2 S
  const t = c.endTail;
  const l2r = re * re - im * im;
  const l2i = 2 * re * im;
  let sr = t[0]! + re * t[2]! - im * t[3]! + l2r * t[4]! - l2i * t[5]!;
  let si = t[1]! + re * t[3]! + im * t[2]! + l2r * t[5]! + l2i * t[4]!;
  let dr = t[2]! + 2 * (re * t[4]! - im * t[5]!);
  let di = t[3]! + 2 * (re * t[5]! + im * t[4]!);
  const { string, endWeight } = c;
  for (let n = 0; n < string.count; n++) {
    const a = string.re[n]! - re;
    const b = string.im[n]! - im;
    const size = 1 / (a * a + b * b);
    const u = a * size;
    const v = -b * size;
    const w = endWeight[n]!;
    sr += w * u;
    si += w * v;
    dr += w * (u * u - v * v);
    di += 2 * w * u * v;
  }
  const m = c.endMass;
  const Dr = c.endStiffness[0] - re * m - (l2r * sr - l2i * si);
  const Di = c.endStiffness[1] - im * m - (l2r * si + l2i * sr);
  const Er = -m - 2 * (re * sr - im * si) - (l2r * dr - l2i * di);
  const Ei = -2 * (re * si + im * sr) - (l2r * di + l2i * dr);
  out[0] = Dr;
  out[1] = Di;
  out[2] = Er;
  out[3] = Ei;
}

/**
 * f(lambda) = 1 + D tr G + D^2 det G and its derivative at lambda = (re, im), into `out` (see `slot`). One sweep over the
 * poles of string and body; det G counts as zero where the body yields in one direction only.
 */
export function secular(c: CrownSystem, re: number, im: number, out: Float64Array): void {
  endForce(c, re, im, out);
  const Dr = out[0]!;
  const Di = out[1]!;
  const Er = out[2]!;
  const Ei = out[3]!;

  // body: G and its derivative
  const { body, weight, cells } = c;
  let xr: number;
  let xi: number;
  let pr: number;
  let pi: number;
  let yr: number;
  let yi: number;
  let xr1: number;
  let xi1: number;
  let pr1: number;
  let pi1: number;
  let yr1: number;
  let yi1: number;
  let from = 0;
  let to = body.count;
  if (cells === undefined) {
    // rigid motions have their pole at 0
    const z = 1 / (re * re + im * im);
    const zr = -re * z;
    const zi = im * z;
    const z2r = zr * zr - zi * zi;
    const z2i = 2 * zr * zi;
    const [Rx, Rxy, Ry] = c.residual;
    const [Mx, Mxy, My] = c.rigid;
    xr = Rx + Mx * zr;
    xi = Mx * zi;
    pr = Rxy + Mxy * zr;
    pi = Mxy * zi;
    yr = Ry + My * zr;
    yi = My * zi;
    xr1 = Mx * z2r;
    xi1 = Mx * z2i;
    pr1 = Mxy * z2r;
    pi1 = Mxy * z2i;
    yr1 = My * z2r;
    yi1 = My * z2i;
  } else {
    const cell = cellOf(cells, re);
    from = cells.from[cell]!;
    to = cells.to[cell]!;
    const { far } = cells;
    const k = 24 * cell;
    const a = re - cells.re[cell]!;
    const b = im - cells.im[cell]!;
    const a2 = a * a - b * b;
    const b2 = 2 * a * b;
    const a3 = a2 * a - b2 * b;
    const b3 = a2 * b + b2 * a;
    xr = farRe(far, k, a, b, a2, b2, a3, b3);
    xi = farIm(far, k, a, b, a2, b2, a3, b3);
    pr = farRe(far, k + 2, a, b, a2, b2, a3, b3);
    pi = farIm(far, k + 2, a, b, a2, b2, a3, b3);
    yr = farRe(far, k + 4, a, b, a2, b2, a3, b3);
    yi = farIm(far, k + 4, a, b, a2, b2, a3, b3);
    // the slope is that of the second order, which is enough to step by
    xr1 = far[k + 6]! + 2 * (far[k + 12]! * a - far[k + 13]! * b);
    xi1 = far[k + 7]! + 2 * (far[k + 12]! * b + far[k + 13]! * a);
    pr1 = far[k + 8]! + 2 * (far[k + 14]! * a - far[k + 15]! * b);
    pi1 = far[k + 9]! + 2 * (far[k + 14]! * b + far[k + 15]! * a);
    yr1 = far[k + 10]! + 2 * (far[k + 16]! * a - far[k + 17]! * b);
    yi1 = far[k + 11]! + 2 * (far[k + 16]! * b + far[k + 17]! * a);
  }
  for (let i = from; i < to; i++) {
    const a = body.re[i]! - re;
    const b = body.im[i]! - im;
    const size = 1 / (a * a + b * b);
    const u = a * size;
    const v = -b * size;
    const u2 = u * u - v * v;
    const v2 = 2 * u * v;
    const at = 6 * i;
    const a0 = weight[at]!;
    const b0 = weight[at + 1]!;
    xr += a0 * u - b0 * v;
    xi += a0 * v + b0 * u;
    xr1 += a0 * u2 - b0 * v2;
    xi1 += a0 * v2 + b0 * u2;
    const a1 = weight[at + 2]!;
    const b1 = weight[at + 3]!;
    pr += a1 * u - b1 * v;
    pi += a1 * v + b1 * u;
    pr1 += a1 * u2 - b1 * v2;
    pi1 += a1 * v2 + b1 * u2;
    const a2 = weight[at + 4]!;
    const b2 = weight[at + 5]!;
    yr += a2 * u - b2 * v;
    yi += a2 * v + b2 * u;
    yr1 += a2 * u2 - b2 * v2;
    yi1 += a2 * v2 + b2 * u2;
  }
  const tr = xr + yr;
  const ti = xi + yi;
  const tr1 = xr1 + yr1;
  const ti1 = xi1 + yi1;
  let er = 0;
  let ei = 0;
  let er1 = 0;
  let ei1 = 0;
  if (c.rank === 2) {
    er = xr * yr - xi * yi - (pr * pr - pi * pi);
    ei = xr * yi + xi * yr - 2 * pr * pi;
    er1 = xr1 * yr - xi1 * yi + xr * yr1 - xi * yi1 - 2 * (pr * pr1 - pi * pi1);
    ei1 = xr1 * yi + xi1 * yr + xr * yi1 + xi * yr1 - 2 * (pr * pi1 + pi * pr1);
  }
  // f = 1 + D (tr + D det), f' = D' (tr + 2 D det) + D (tr' + D det')
  const gr = Dr * er - Di * ei;
  const gi = Dr * ei + Di * er;
  const hr = tr1 + Dr * er1 - Di * ei1;
  const hi = ti1 + Dr * ei1 + Di * er1;
  out[4] = xr;
  out[5] = xi;
  out[6] = pr;
  out[7] = pi;
  out[8] = yr;
  out[9] = yi;
  out[10] = 1 + Dr * (tr + gr) - Di * (ti + gi);
  out[11] = Dr * (ti + gi) + Di * (tr + gr);
  out[12] = Er * (tr + 2 * gr) - Ei * (ti + 2 * gi) + Dr * hr - Di * hi;
  out[13] = Er * (ti + 2 * gi) + Ei * (tr + 2 * gr) + Dr * hi + Di * hr;
}

/** Real part of g0 + g1 t + g2 t^2 + g3 t^3, each g six numbers after the last, t^n = an + i bn. */
function farRe(
  g: Float64Array,
  k: number,
  a: number,
  b: number,
  a2: number,
  b2: number,
  a3: number,
  b3: number,
): number {
  const low = g[k]! + g[k + 6]! * a - g[k + 7]! * b;
  return low + g[k + 12]! * a2 - g[k + 13]! * b2 + g[k + 18]! * a3 - g[k + 19]! * b3;
}

/** Its imaginary part. */
function farIm(
  g: Float64Array,
  k: number,
  a: number,
  b: number,
  a2: number,
  b2: number,
  a3: number,
  b3: number,
): number {
  const low = g[k + 1]! + g[k + 7]! * a + g[k + 6]! * b;
  return low + g[k + 13]! * a2 + g[k + 12]! * b2 + g[k + 19]! * a3 + g[k + 18]! * b3;
}
