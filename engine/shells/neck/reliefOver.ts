import { piecewiseLinear } from "#engine/numerics";

/**
 * Greatest departure of a line from the straightedge laid on it at `from` and `to` (m along x, from < to): positive where it
 * hollows, negative where it crowns; whichever is larger. m
 */
export function reliefOver(x: Float64Array, rise: Float64Array, from: number, to: number): number {
  const [a, b] = [piecewiseLinear(x, rise, from), piecewiseLinear(x, rise, to)];
  let [hollow, crown] = [0, 0];
  x.forEach((s, k) => {
    if (s <= from || s >= to) return;
    const gap = a + ((b - a) * (s - from)) / (to - from) - rise[k]!;
    hollow = Math.max(hollow, gap);
    crown = Math.min(crown, gap);
  });
  return hollow >= -crown ? hollow : crown;
}
