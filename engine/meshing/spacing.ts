/** Nodes along the legs of an arrangement, spaced by the size field. */
import { distanceToChain, putPointAlong } from "./chains.ts";
import { sagFraction } from "./features.ts";
import { type Leg, legPoints } from "./leg.ts";
import { type SizeField, sizeAt } from "./sizing.ts";

/** Places s[0..n] along a stretch [from, to] of the leg that make the integral of ds/h equal in each piece. */
function equalPlaces(one: Leg, from: number, to: number, h: SizeField, least: number): number[] {
  // Trapezoids on steps of at most a quarter of the size there.
  const at: number[] = [from];
  const sum: number[] = [0];
  let s = from;
  const place = new Float64Array(2);
  putPointAlong(one.chain, one.runs, s, place, 0);
  let size = sizeAt(h, place[0], place[1]);
  while (s < to) {
    const step = Math.min(0.25 * size, to - s);
    s = to - s - step < 1e-9 * to ? to : s + step;
    putPointAlong(one.chain, one.runs, s, place, 0);
    const next = sizeAt(h, place[0], place[1]);
    sum.push(sum[sum.length - 1] + ((s - at[at.length - 1]) * (1 / size + 1 / next)) / 2);
    at.push(s);
    size = next;
  }
  const total = sum[sum.length - 1];
  const n = Math.max(least, Math.round(total));
  const places = [from];
  let k = 0;
  for (let i = 1; i < n; i++) {
    const want = (total * i) / n;
    while (sum[k + 1] < want) k++;
    places.push(at[k] + ((at[k + 1] - at[k]) * (want - sum[k])) / (sum[k + 1] - sum[k]));
  }
  places.push(to);
  return places;
}

/** Largest distance of the leg's own points from the chords between the places. */
function sag(one: Leg, places: readonly number[]): number {
  const chords = legPoints(one, places);
  let worst = 0;
  for (let i = 2; i < one.chain.length - 2; i += 2) {
    worst = Math.max(worst, distanceToChain(chords, one.chain[i], one.chain[i + 1]));
  }
  return worst;
}

/**
 * Places along a leg, from 0 to its length. `first` = edge lengths wanted at its two ends (0: no wish).
 * At least `least` pieces; more where the chords would part from a curved leg by more than the allowed sag.
 */
export function legPlaces(one: Leg, first: readonly [number, number], h: SizeField, least: number): number[] {
  const { length } = one;
  const head = first[0] > 0 && first[0] < 0.99 * length ? first[0] : 0;
  const tail = first[1] > 0 && first[1] < 0.99 * length ? length - first[1] : length;
  let places: number[] = [];
  const straight = one.chain.length === 4;
  for (let n = 1; n <= 64; n *= 2) {
    const inner = tail - head > 0.3 * Math.max(head, length - tail);
    if (inner) {
      const middle = equalPlaces(one, head, tail, h, n);
      places = [...(head > 0 ? [0] : []), ...middle, ...(tail < length ? [length] : [])];
    } else places = [0, length / 2, length];
    if (places.length - 1 < least) continue;
    if (straight || sag(one, places) <= 1.5 * sagFraction * h.size) break;
  }
  return places;
}
