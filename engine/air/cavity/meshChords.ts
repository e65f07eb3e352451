import type { Polyline } from "#engine/geometry";

/** Greatest turn from one chord to the next, rad: a quadratic edge follows such an arc to 0.3 % of its radius. */
const MOST_TURN = 0.8;
/** A point where the chain turns by more than this is a corner and kept, rad. */
const CORNER = 0.4;

/**
 * A fine chain cut into chords of about `size` (m), shorter where it bends, corners kept: the nodes that the curved
 * edges of the elements hang on. A closed chain (first point not repeated) comes back closed, an open one with its ends.
 */
export function meshChords(chain: Polyline, size: number, closed: boolean): Polyline {
  const n = chain.length / 2;
  const x = (i: number) => chain[2 * (i % n)];
  const y = (i: number) => chain[2 * (i % n) + 1];
  const turn = (i: number): number => {
    const [p, q] = [(i + n - 1) % n, (i + 1) % n];
    const [ux, uy, vx, vy] = [x(i) - x(p), y(i) - y(p), x(q) - x(i), y(q) - y(i)];
    return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  };
  const turns = Float64Array.from({ length: n }, (_, i) => turn(i));
  const corners: number[] = [];
  for (let i = 0; i < n; i++)
    if (closed ? turns[i] > CORNER : i === 0 || i === n - 1 || turns[i] > CORNER) corners.push(i);
  const round = corners.length === 0;
  if (round) corners.push(0);
  if (closed) corners.push(corners[0] + n);
  const out: number[] = [];
  for (let c = 0; c + 1 < corners.length; c++) {
    const [from, to] = [corners[c], corners[c + 1]];
    // Chords needed up to each point of the stretch: by length, or by turning where that asks for more.
    const need = [0];
    for (let i = from; i < to; i++) {
      const length = Math.hypot(x(i + 1) - x(i), y(i + 1) - y(i));
      const bend = (i > from ? turns[i % n] / 2 : 0) + (i + 1 < to ? turns[(i + 1) % n] / 2 : 0);
      need.push(need[need.length - 1] + Math.max(length / size, bend / MOST_TURN));
    }
    const total = need[need.length - 1];
    const pieces = Math.max(round ? 6 : 1, Math.round(total));
    let at = 0;
    for (let k = 0; k < pieces; k++) {
      const wanted = (total * k) / pieces;
      while (at + 1 < need.length - 1 && need[at + 1] <= wanted) at++;
      const f = k === 0 ? 0 : (wanted - need[at]) / (need[at + 1] - need[at]);
      out.push(
        x(from + at) + f * (x(from + at + 1) - x(from + at)),
        y(from + at) + f * (y(from + at + 1) - y(from + at)),
      );
    }
  }
  if (!closed) out.push(x(n - 1), y(n - 1));
  return Float64Array.from(out);
}
