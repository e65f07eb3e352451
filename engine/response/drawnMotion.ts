import type { ModeCoordinates } from "./structureMotion.ts";

/** Outward motion at the nodes of one plate of the first modes, drawn x nodes. lift: P x nodes, by coordinate. */
export function drawnMotion(lift: Float64Array, x: ModeCoordinates, drawn: number): Float64Array {
  const p = x.structure.length / (x.rigidCount + x.count);
  const nodes = lift.length / p;
  const count = Math.min(drawn, x.count);
  const out = new Float64Array(count * nodes);
  // So many nodes at a time that all coordinates of them stay in the cache; four coordinates in one pass.
  const piece = 256;
  const whole = p & ~3;
  for (let first = 0; first < nodes; first += piece) {
    const last = Math.min(nodes, first + piece);
    for (let i = 0; i < count; i++) {
      const to = (i * nodes) | 0;
      const own = (x.rigidCount + i) * p;
      for (let s = 0; s < whole; s += 4)
        addFour(out, to, x.structure, own + s, lift, s * nodes, nodes, first, last);
      for (let s = whole; s < p; s++) {
        const f = x.structure[own + s];
        const l = s * nodes;
        for (let k = first; k < last; k++) out[to + k] += f * lift[l + k];
      }
    }
  }
  return out;
}

function addFour(
  out: Float64Array,
  to: number,
  factor: Float64Array,
  f: number,
  lift: Float64Array,
  l0: number,
  nodes: number,
  first: number,
  last: number,
): void {
  const f0 = factor[f];
  const f1 = factor[f + 1];
  const f2 = factor[f + 2];
  const f3 = factor[f + 3];
  const l1 = (l0 + nodes) | 0;
  const l2 = (l1 + nodes) | 0;
  const l3 = (l2 + nodes) | 0;
  for (let k = first; k < last; k = (k + 1) | 0)
    out[(to + k) | 0] +=
      f0 * lift[(l0 + k) | 0] + f1 * lift[(l1 + k) | 0] + f2 * lift[(l2 + k) | 0] + f3 * lift[(l3 + k) | 0];
}
