import type { BodyResponse } from "./bodyResponse.ts";

/**
 * One string's view of the body: rigid motions of the whole body first, with omega 0, then the modes. This is the record
 * that `notes` couples a string to.
 */
export interface CrownView {
  /** rad/s. */
  readonly omega: Float64Array;
  /** Infinite for the rigid motions. */
  readonly q: Float64Array;
  /** motions x 3, mass-normalised: [normal, across, along]. */
  readonly shape: Float64Array;
  /** 3 x 3, m/N. */
  readonly residual: Float64Array;
  /** Pa at 1 m per unit modal acceleration; 0 for the rigid motions, which move no volume. */
  readonly pressure: Float64Array;
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
  q.set(body.q, r);
  pressure.set(body.pressurePerAcceleration, r);
  for (let i = 0; i < m; i++) {
    const [from, at] = i < r ? [body.rigidCrownShape, i] : [body.crownShape, i - r];
    for (let d = 0; d < 3; d++) shape[3 * i + d] = from[at * size + 3 * crown + d];
    if (i >= r) omega[i] = 2 * Math.PI * body.frequency[i - r];
  }
  const residual = new Float64Array(9);
  for (let d = 0; d < 3; d++) {
    for (let e = 0; e < 3; e++) residual[3 * d + e] = body.residual[(3 * crown + d) * size + 3 * crown + e];
  }
  return { omega, q, shape, residual, pressure };
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
  const add = (shape: Float64Array, i: number, hr: number, hi: number) => {
    for (let d = 0; d < size; d++) {
      const s = shape[i * size + d];
      for (let e = 0; e < size; e++) {
        re[d * size + e] += hr * s * shape[i * size + e];
        im[d * size + e] += hi * s * shape[i * size + e];
      }
    }
  };
  for (let i = 0; i < body.rigidCount; i++) add(body.rigidCrownShape, i, 0, -1 / omega);
  for (let i = 0; i < body.count; i++) {
    const [hr, hi] = modeMobility(2 * Math.PI * body.frequency[i], body.q[i], omega);
    add(body.crownShape, i, hr, hi);
  }
  return { re, im };
}

/** i w / (wi^2 - w^2 + i w wi/q). */
export function modeMobility(wi: number, q: number, w: number): readonly [re: number, im: number] {
  const a = wi * wi - w * w;
  const b = (w * wi) / q;
  const d = a * a + b * b;
  return [(w * b) / d, (w * a) / d];
}
