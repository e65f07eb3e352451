import type { PanelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";
import type { RegularWaves } from "./regularWaves.ts";

/** The regular waves of one frequency met by a surface, by the middles of its edges. */
export interface SurfaceWaves {
  readonly count: number;
  /** nodes x count: integral of the node's hat times the wave. */
  readonly tested: Float64Array;
  /** count x panels: integral of the wave over the panel. */
  readonly sentByMotion: Float64Array;
  /** count x nodes: integral of the wave's normal slope times the hat. */
  readonly sentByPressure: Float64Array;
}

export function surfaceWaves(
  g: PanelGeometry,
  { count: edges, ends, sides }: PanelEdges,
  { count, value, slope }: RegularWaves,
): SurfaceWaves {
  const { nodes, panels, area } = g;
  const tested = new Float64Array(nodes * count);
  const sentByMotion = new Float64Array(count * panels);
  const sentByPressure = new Float64Array(count * nodes);
  for (let w = 0; w < count; w++) {
    const p = w * panels;
    const n = w * nodes;
    for (let e = 0; e < edges; e++) {
      const v = value[w * edges + e] / 3;
      const s = sides[2 * e];
      const t = sides[2 * e + 1];
      const first = v * area[s];
      const second = v * area[t];
      sentByMotion[p + s] += first;
      sentByMotion[p + t] += second;
      const hat = 0.5 * (first + second);
      const i = ends[2 * e];
      const j = ends[2 * e + 1];
      tested[i * count + w] += hat;
      tested[j * count + w] += hat;
      const half = 0.5 * slope[w * edges + e];
      sentByPressure[n + i] += half;
      sentByPressure[n + j] += half;
    }
  }
  return { count, tested, sentByMotion, sentByPressure };
}
