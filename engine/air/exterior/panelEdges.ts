import { invariant } from "#engine/numerics";
import type { PanelGeometry } from "./panelGeometry.ts";

/** The edges of a closed surface; their middles are the points of the plain rule, each shared by two panels. */
export interface PanelEdges {
  readonly count: number;
  /** Edge from corner m to the next of each panel, 3 by panel. */
  readonly ofPanel: Uint32Array;
  /** 2 nodes by edge. */
  readonly ends: Uint32Array;
  /** 2 panels by edge. */
  readonly sides: Uint32Array;
  /** x,y,z of the middle by edge, m. */
  readonly middle: Float64Array;
  /** x,y,z of a third of the area vectors of both panels together by edge, m2. */
  readonly facing: Float64Array;
}

/** Edges of a surface that has passed `surfaceFaults`; an edge with one panel or three is our own mistake. */
export function panelEdges(g: PanelGeometry): PanelEdges {
  const count = (3 * g.panels) / 2;
  const ofPanel = new Uint32Array(3 * g.panels);
  const ends = new Uint32Array(2 * count);
  const sides = new Uint32Array(2 * count);
  const middle = new Float64Array(3 * count);
  const facing = new Float64Array(3 * count);
  const open = new Map<number, number>();
  let made = 0;
  for (let t = 0; t < g.panels; t++) {
    for (let m = 0; m < 3; m++) {
      const p = g.corner[3 * t + m];
      const q = g.corner[3 * t + ((m + 1) % 3)];
      const key = Math.min(p, q) * g.nodes + Math.max(p, q);
      let edge = open.get(key);
      if (edge === undefined) {
        edge = made++;
        invariant(edge < count, () => `more than ${count} edges: the surface is not closed`);
        open.set(key, edge);
        ends.set([p, q], 2 * edge);
        for (let d = 0; d < 3; d++) middle[3 * edge + d] = 0.5 * (g.place[3 * p + d] + g.place[3 * q + d]);
        sides[2 * edge] = t;
      } else {
        open.delete(key);
        sides[2 * edge + 1] = t;
      }
      ofPanel[3 * t + m] = edge;
      for (let d = 0; d < 3; d++) facing[3 * edge + d] += (g.area[t] * g.normal[3 * t + d]) / 3;
    }
  }
  invariant(open.size === 0, () => `${open.size} edges with a panel on one side only`);
  return { count, ofPanel, ends, sides, middle, facing };
}
