import type { PanelGeometry } from "./panelGeometry.ts";

/** Volume (m3), area (m2), centre of the area and largest distance of a node from it (m). */
export interface SurfaceMeasures {
  readonly volume: number;
  readonly area: number;
  readonly centre: readonly [number, number, number];
  readonly radius: number;
}

/** Volume by Gauss's theorem: a third of the sum over panels of area x centroid . normal. */
export function surfaceMeasures(g: PanelGeometry): SurfaceMeasures {
  let volume = 0;
  let area = 0;
  const centre = [0, 0, 0];
  for (let t = 0; t < g.panels; t++) {
    area += g.area[t];
    for (let d = 0; d < 3; d++) {
      volume += (g.area[t] * g.centre[3 * t + d] * g.normal[3 * t + d]) / 3;
      centre[d] += g.area[t] * g.centre[3 * t + d];
    }
  }
  const [x, y, z] = centre.map((c) => c / area);
  let radius = 0;
  for (let p = 0; p < g.place.length; p += 3) {
    radius = Math.max(radius, Math.hypot(g.place[p] - x, g.place[p + 1] - y, g.place[p + 2] - z));
  }
  return { volume, area, centre: [x, y, z], radius };
}
