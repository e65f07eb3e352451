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
      for (let s = 0; s < p; s += s < whole ? 4 : 1) {
        const f0 = x.structure[own + s];
        const l0 = (s * nodes) | 0;
        if (s >= whole) {
          for (let k = first; k < last; k = (k + 1) | 0) out[(to + k) | 0] += f0 * lift[(l0 + k) | 0];
          continue;
        }
        const f1 = x.structure[own + s + 1];
        const f2 = x.structure[own + s + 2];
        const f3 = x.structure[own + s + 3];
        const l1 = (l0 + nodes) | 0;
        const l2 = (l1 + nodes) | 0;
        const l3 = (l2 + nodes) | 0;
        for (let k = first; k < last; k = (k + 1) | 0)
          out[(to + k) | 0] +=
            f0 * lift[(l0 + k) | 0] +
            f1 * lift[(l1 + k) | 0] +
            f2 * lift[(l2 + k) | 0] +
            f3 * lift[(l3 + k) | 0];
      }
    }
  }
  return out;
}
