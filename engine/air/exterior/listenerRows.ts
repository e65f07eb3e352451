import type { PanelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

/** What reaches places of even motion of each panel and of each hat of pressure, all per unit acceleration and density. */
export interface ListenerRows {
  /** 2 places x panels: real rows, then imaginary rows. */
  readonly heardOfMotion: Float64Array;
  /** 2 places x 2 nodes: to be multiplied with the pressure's real parts above its imaginary ones. */
  readonly heardOfPressure: Float64Array;
}

/** p = D p + S v at points x,y,z clear of the surface, by the middles of the edges. */
export function listenerRows(
  { nodes, panels, area }: PanelGeometry,
  { count: edges, middle, facing, ends, sides }: PanelEdges,
  k: number,
  points: Float64Array,
): ListenerRows {
  const places = points.length / 3;
  const heardOfMotion = new Float64Array(2 * places * panels);
  const heardOfPressure = new Float64Array(4 * places * nodes);
  for (let place = 0; place < places; place++) {
    const s = place * panels;
    const sIm = s + places * panels;
    const d = 2 * place * nodes;
    const dIm = d + 2 * places * nodes;
    for (let e = 0; e < edges; e++) {
      const dx = points[3 * place] - middle[3 * e];
      const dy = points[3 * place + 1] - middle[3 * e + 1];
      const dz = points[3 * place + 2] - middle[3 * e + 2];
      const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
      const c = Math.cos(k * r) / (4 * Math.PI * r);
      const m = -Math.sin(k * r) / (4 * Math.PI * r);
      const half = (0.5 * (dx * facing[3 * e] + dy * facing[3 * e + 1] + dz * facing[3 * e + 2])) / (r * r);
      const re = half * (c - k * r * m);
      const im = half * (k * r * c + m);
      for (let side = 2 * e; side < 2 * e + 2; side++) {
        const third = area[sides[side]] / 3;
        heardOfMotion[s + sides[side]] += third * c;
        heardOfMotion[sIm + sides[side]] += third * m;
        const node = ends[side];
        heardOfPressure[d + node] += re;
        heardOfPressure[d + nodes + node] -= im;
        heardOfPressure[dIm + node] += im;
        heardOfPressure[dIm + nodes + node] += re;
      }
    }
  }
  return { heardOfMotion, heardOfPressure };
}
