import type { ModeCoordinates } from "./structureMotion.ts";

/** Outward motion at the nodes of one plate of the first modes, drawn x nodes. lift: P x nodes, by coordinate. */
export function drawnMotion(lift: Float64Array, x: ModeCoordinates, drawn: number): Float64Array {
  const p = x.structure.length / (x.rigidCount + x.count);
  const nodes = lift.length / p;
  const count = Math.min(drawn, x.count);
  const out = new Float64Array(count * nodes);
  // So many nodes at a time that all coordinates of them stay in the cache.
  const piece = 256;
  for (let first = 0; first < nodes; first += piece) {
    const last = Math.min(nodes, first + piece);
    for (let i = 0; i < count; i++) {
      const to = i * nodes;
      for (let s = 0; s < p; s++) {
        const f = x.structure[(x.rigidCount + i) * p + s];
        const from = s * nodes;
        for (let k = first; k < last; k++) out[to + k] += f * lift[from + k];
      }
    }
  }
  return out;
}
