/** Small measurements on chains of points (x,y by point), shared by the steps of the mesher. */

/** Square of the distance from (x, y) to the segment a-b. */
export function segmentDistance2(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const dx = bx - ax;
  const dy = by - ay;
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / l2));
  const ex = ax + t * dx - x;
  const ey = ay + t * dy - y;
  return ex * ex + ey * ey;
}

export interface PlaceOnChain {
  readonly distance: number;
  /** Segment of the chain and place in it. */
  readonly segment: number;
  readonly t: number;
  readonly x: number;
  readonly y: number;
}

/** Nearest place of an open chain of at least two points to (x, y). */
export function nearestOnChain(chain: Float64Array, x: number, y: number): PlaceOnChain {
  let best = Number.POSITIVE_INFINITY;
  let nearest = 0;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    const d2 = segmentDistance2(x, y, chain[i], chain[i + 1], chain[i + 2], chain[i + 3]);
    if (d2 >= best) continue;
    best = d2;
    nearest = i;
  }
  const ax = chain[nearest];
  const ay = chain[nearest + 1];
  const dx = chain[nearest + 2] - ax;
  const dy = chain[nearest + 3] - ay;
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / l2));
  return { distance: Math.sqrt(best), segment: nearest / 2, t, x: ax + t * dx, y: ay + t * dy };
}

/** Distance from (x, y) to an open chain of at least two points. */
export function distanceToChain(chain: Float64Array, x: number, y: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    const d2 = segmentDistance2(x, y, chain[i], chain[i + 1], chain[i + 2], chain[i + 3]);
    if (d2 < best) best = d2;
  }
  return Math.sqrt(best);
}

/** Distance of each point of the chain from its start, along it. */
export function chainRuns(chain: Float64Array): Float64Array {
  const runs = new Float64Array(chain.length / 2);
  for (let k = 1; k < runs.length; k++) {
    const dx = chain[2 * k] - chain[2 * k - 2];
    const dy = chain[2 * k + 1] - chain[2 * k - 1];
    runs[k] = runs[k - 1] + Math.sqrt(dx * dx + dy * dy);
  }
  return runs;
}

/** Writes the point at distance s along the chain from its start (clamped to its ends) to `out` at `to`. */
export function putPointAlong(
  chain: Float64Array,
  runs: Float64Array,
  s: number,
  out: Float64Array,
  to: number,
): void {
  let low = 0;
  let high = runs.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (runs[middle] < s) low = middle;
    else high = middle;
  }
  const length = runs[high] - runs[low];
  const t = length > 0 ? Math.min(1, Math.max(0, (s - runs[low]) / length)) : 0;
  out[to] = chain[2 * low] + t * (chain[2 * high] - chain[2 * low]);
  out[to + 1] = chain[2 * low + 1] + t * (chain[2 * high + 1] - chain[2 * low + 1]);
}

/** Least x, y and greatest x, y. */
export type Bounds = readonly [number, number, number, number];

export function boundsMeet(a: Bounds, b: Bounds): boolean {
  return boundsWithin(a, b, 0);
}

/** Whether two boxes are nearer than `reach` in x and in y. */
export function boundsWithin(a: Bounds, b: Bounds, reach: number): boolean {
  return a[0] - reach <= b[2] && b[0] - reach <= a[2] && a[1] - reach <= b[3] && b[1] - reach <= a[3];
}

/** Whether (x, y) is farther than `reach` from the box in x or in y. */
export function isBeyond(box: Bounds, x: number, y: number, reach: number): boolean {
  return x < box[0] - reach || x > box[2] + reach || y < box[1] - reach || y > box[3] + reach;
}

/** Chain without points nearer than `gap` to their predecessor. The last point of an open chain is kept. */
export function withoutRepeats(chain: ArrayLike<number>, gap: number, closed: boolean): Float64Array {
  const kept: number[] = [];
  for (let i = 0; i < chain.length; i += 2) {
    const k = kept.length;
    if (k > 0 && Math.hypot(chain[i] - kept[k - 2], chain[i + 1] - kept[k - 1]) <= gap) continue;
    kept.push(chain[i], chain[i + 1]);
  }
  if (closed && kept.length > 2) {
    const k = kept.length;
    if (Math.hypot(kept[0] - kept[k - 2], kept[1] - kept[k - 1]) <= gap) kept.length = k - 2;
  }
  return Float64Array.from(kept);
}
