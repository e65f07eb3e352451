import type { BattenWeight, Polygon } from "#engine/geometry";

/** One weight more, on the curve half way along the longest stretch that has none. */
export function withWeight(weights: readonly BattenWeight[], curve: Polygon): readonly BattenWeight[] {
  const n = curve.length / 2;
  const corner = (weight: BattenWeight): number => {
    let [best, least] = [0, Number.POSITIVE_INFINITY];
    for (let i = 0; i < n; i++) {
      const gap = Math.hypot(curve[2 * i]! - weight.at[0], curve[2 * i + 1]! - weight.at[1]);
      if (gap < least) [best, least] = [i, gap];
    }
    return best;
  };
  const corners = weights.map(corner);
  let [longest, after] = [0, 0];
  for (const [i, from] of corners.entries()) {
    const to = corners[(i + 1) % corners.length]!;
    const span = (to - from + n) % n || n;
    if (span > longest) [longest, after] = [span, i];
  }
  const at = (corners[after]! + Math.floor(longest / 2)) % n;
  const point = (i: number): readonly [number, number] => [
    curve[2 * ((i + n) % n)]!,
    curve[2 * ((i + n) % n) + 1]!,
  ];
  const [[ax, ay], [bx, by]] = [point(at - 1), point(at + 1)];
  const added: BattenWeight = { at: point(at), heading: Math.atan2(by - ay, bx - ax), held: false };
  return [...weights.slice(0, after + 1), added, ...weights.slice(after + 1)];
}
