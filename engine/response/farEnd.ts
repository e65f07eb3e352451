import { done, failed, type Outcome } from "#engine/numerics";
import type { BodyResponse } from "./bodyResponse.ts";

/** Motion of a string's far end, at nut or fret, by every motion of the body in the order of `CrownView`. */
export interface FarEndView {
  /** motions x 2, mass-normalised: [normal, across]. */
  readonly shape: Float64Array;
  readonly shapeIm: Float64Array;
}

/**
 * A string's end over the place (x, y), m, on the fingerboard. Between the stations by the cubic through the four nearest;
 * beyond the last one as there. Fails with 'no-neck' where the neck's motion was not asked for.
 */
export function farEnd(body: BodyResponse, x: number, y: number): Outcome<FarEndView> {
  const { neck, count, rigidCount: r } = body;
  if (neck === undefined) return failed("no-neck", "the motion of the fingerboard was not asked for");
  const [first, weights] = weightsAt(neck.x, x);
  const shape = new Float64Array(2 * (r + count));
  const shapeIm = new Float64Array(2 * (r + count));
  const width = 3 * neck.x.length;
  const put = (from: Float64Array, row: number, to: Float64Array, at: number): void => {
    weights.forEach((w, k) => {
      const s = row * width + 3 * (first + k);
      to[at] += w * (from[s] + y * from[s + 1]);
      to[at + 1] += w * from[s + 2];
    });
  };
  for (let i = 0; i < r; i++) put(neck.rigidShape, i, shape, 2 * i);
  for (let i = 0; i < count; i++) {
    put(neck.shape, i, shape, 2 * (r + i));
    put(neck.imaginary, i, shapeIm, 2 * (r + i));
  }
  return done({ shape, shapeIm });
}

/** First of the stations that count, and their weights: Lagrange's polynomial. */
function weightsAt(x: Float64Array, at: number): readonly [first: number, weights: readonly number[]] {
  const n = x.length;
  const place = Math.min(Math.max(at, x[0]), x[n - 1]);
  let k = 0;
  while (k + 2 < n && x[k + 1] < place) k++;
  const first = Math.max(0, Math.min(k - 1, n - 4));
  const used = x.subarray(first, first + 4);
  const weights = Array.from(used, (own, i) =>
    used.reduce((w, other, j) => (i === j ? w : (w * (place - other)) / (own - other)), 1),
  );
  return [first, weights];
}
