import type { BodyResponse, ModePressure } from "./bodyResponse.ts";

/**
 * One string's view of the body: rigid motions of the whole body first, with omega 0, then the modes. This is the record
 * that `notes` couples a string to: compliance sum_i s_i s_i' / (omega_i^2 (1 + i/q_i) - w^2) + residual, no conjugates.
 */
export interface CrownView {
  /** rad/s: root of the real part of each pole (the listed frequency but for 1/8q^2). */
  readonly omega: Float64Array;
  /** Infinite for the rigid motions. */
  readonly q: Float64Array;
  /** motions x 3, mass-normalised: [normal, across, along]. */
  readonly shape: Float64Array;
  /** The same: imaginary parts. */
  readonly shapeIm: Float64Array;
  /** 3 x 3, m/N. */
  readonly residual: Float64Array;
  /** Pa at 1 m per unit modal acceleration, real, at each mode's own frequency; 0 for the rigid motions. */
  readonly pressure: Float64Array;
  /** The same by frequency, complex, at every listener; null where the source is taken as small. */
  readonly sound: ModePressure | null;
}

/** crown: index into `body.strings`. */
export function crownView(body: BodyResponse, crown: number): CrownView {
  const { count, rigidCount: r } = body;
  const size = 3 * body.strings.length;
  const m = r + count;
  const omega = new Float64Array(m);
  const q = new Float64Array(m).fill(Number.POSITIVE_INFINITY);
  const shape = new Float64Array(3 * m);
  const pressure = new Float64Array(m);
  const shapeIm = new Float64Array(3 * m);
  pressure.set(body.pressurePerAcceleration, r);
  for (let i = 0; i < m; i++) {
    const [from, at] = i < r ? [body.rigidCrownShape, i] : [body.crownShape, i - r];
    for (let d = 0; d < 3; d++) shape[3 * i + d] = from[at * size + 3 * crown + d];
    if (i < r) continue;
    // w^2 (1 + i/2q)^2 = omega^2 (1 + i/q')
    const loss = 1 - 0.25 / body.q[i - r] ** 2;
    omega[i] = 2 * Math.PI * body.frequency[i - r] * Math.sqrt(loss);
    q[i] = body.q[i - r] * loss;
    for (let d = 0; d < 3; d++) shapeIm[3 * i + d] = body.imaginary.crown[(i - r) * size + 3 * crown + d];
  }
  const residual = new Float64Array(9);
  for (let d = 0; d < 3; d++) {
    for (let e = 0; e < 3; e++) residual[3 * d + e] = body.residual[(3 * crown + d) * size + 3 * crown + e];
  }
  return { omega, q, shape, shapeIm, residual, pressure, sound: body.pressure ?? null };
}

/**
 * Mobility (velocity per force, m/(s N)) between all crown directions at omega > 0: 3C x 3C, row by row, split in real and
 * imaginary parts; the sum written at `BodyResponse`. The 3 x 3 block on the diagonal is one string's own.
 */
export function crownMobility(
  body: BodyResponse,
  omega: number,
): { readonly re: Float64Array; readonly im: Float64Array } {
  const size = 3 * body.strings.length;
  const re = new Float64Array(size * size);
  const im = body.residual.map((r) => omega * r);
  const none = new Float64Array(size);
  // (a + i b)_d (a + i b)_e (hr + i hi)
  const add = (a: Float64Array, b: Float64Array, hr: number, hi: number) => {
    for (let d = 0; d < size; d++) {
      const fr = a[d] * hr - b[d] * hi;
      const fi = a[d] * hi + b[d] * hr;
      for (let e = 0; e < size; e++) {
        re[d * size + e] += fr * a[e] - fi * b[e];
        im[d * size + e] += fr * b[e] + fi * a[e];
      }
    }
  };
  const row = (table: Float64Array, i: number) => table.subarray(i * size, i * size + size);
  for (let i = 0; i < body.rigidCount; i++) add(row(body.rigidCrownShape, i), none, 0, -1 / omega);
  for (let i = 0; i < body.count; i++) {
    const [hr, hi] = poleMobility(2 * Math.PI * body.frequency[i], body.q[i], omega);
    add(row(body.crownShape, i), row(body.imaginary.crown, i), hr, hi);
  }
  return { re, im };
}

/** i w / (p - w^2), p = wi^2 (1 + i/2q)^2: the mode's own stiffness with its loss. */
export function poleMobility(wi: number, q: number, w: number): readonly [re: number, im: number] {
  const a = wi * wi * (1 - 0.25 / (q * q)) - w * w;
  const b = (wi * wi) / q;
  const d = a * a + b * b;
  return [(w * b) / d, (w * a) / d];
}
