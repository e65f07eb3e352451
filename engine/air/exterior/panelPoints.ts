import type { PanelGeometry } from "./panelGeometry.ts";

/**
 * The three points of the plain rule by panel (exact to degree 2; hats there are 2/3, 1/6, 1/6; weight a third of the area):
 * point i of a panel lies towards its corner i. x,y,z by point, 9 by panel, m.
 */
export function panelPoints(g: PanelGeometry): Float64Array {
  const points = new Float64Array(9 * g.panels);
  for (let t = 0; t < g.panels; t++) {
    for (let i = 0; i < 3; i++) {
      for (let d = 0; d < 3; d++) {
        points[9 * t + 3 * i + d] = 0.5 * g.centre[3 * t + d] + 0.5 * g.place[3 * g.corner[3 * t + i] + d];
      }
    }
  }
  return points;
}
