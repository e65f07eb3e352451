/** Small measurements on chains of points (x,y by point), shared by the steps of the mesher. */

/** Square of the distance from (x, y) to the segment a-b, and the place t in [0, 1] of the nearest point on it. */
export function segmentDistance2(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): { d2: number; t: number } {
  const dx = bx - ax;
  const dy = by - ay;
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / l2));
  const ex = ax + t * dx - x;
  const ey = ay + t * dy - y;
  return { d2: ex * ex + ey * ey, t };
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
export function nearestOnChain(chain: ArrayLike<number>, x: number, y: number): PlaceOnChain {
  let best = Number.POSITIVE_INFINITY;
  let segment = 0;
  let at = 0;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    const { d2, t } = segmentDistance2(x, y, chain[i], chain[i + 1], chain[i + 2], chain[i + 3]);
    if (d2 < best) {
      best = d2;
      segment = i / 2;
      at = t;
    }
  }
  const i = 2 * segment;
  return {
    distance: Math.sqrt(best),
    segment,
    t: at,
    x: chain[i] + at * (chain[i + 2] - chain[i]),
    y: chain[i + 1] + at * (chain[i + 3] - chain[i + 1]),
  };
}

export function chainLength(chain: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    sum += Math.hypot(chain[i + 2] - chain[i], chain[i + 3] - chain[i + 1]);
  }
  return sum;
}

/** The point at distance s along the chain from its start (clamped to its ends). */
export function pointAlong(chain: ArrayLike<number>, s: number): readonly [number, number] {
  let left = s;
  const last = chain.length - 2;
  for (let i = 0; i < last; i += 2) {
    const length = Math.hypot(chain[i + 2] - chain[i], chain[i + 3] - chain[i + 1]);
    if (left <= length && length > 0) {
      const t = Math.max(0, left / length);
      return [chain[i] + t * (chain[i + 2] - chain[i]), chain[i + 1] + t * (chain[i + 3] - chain[i + 1])];
    }
    left -= length;
  }
  return [chain[last], chain[last + 1]];
}

export function boundsMeet(
  a: readonly [number, number, number, number],
  b: readonly [number, number, number, number],
): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
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
