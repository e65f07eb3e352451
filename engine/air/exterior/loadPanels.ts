import { type Kernels, placeOf, type WavePanels } from "#engine/numerics";
import type { PanelGeometry } from "./panelGeometry.ts";

/** Doubles that `loadPanels` takes. */
export function panelRoom(panels: number): number {
  return 26 * (panels + 4) + 16;
}

/** Copies a surface into a kernel memory in the layout of the wave kernel. points: x,y,z by point, 9 by panel. */
export function loadPanels(kernels: Kernels, g: PanelGeometry, points: Float64Array): WavePanels {
  const count = g.panels;
  const stride = 2 * Math.ceil(count / 2) + 2;
  const place = kernels.allocate(9 * stride);
  const normals = kernels.allocate(3 * stride);
  const curls = kernels.allocate(9 * stride);
  const areas = kernels.allocate(stride);
  const corners = kernels.allocateIndices(3 * stride);
  const far = 1e3 * Math.max(...g.size);
  for (let t = 0; t < stride; t++) {
    const real = t < count;
    for (let e = 0; e < 9; e++) {
      place[e * stride + t] = real ? points[9 * t + e] : far;
      curls[e * stride + t] = real ? g.curl[9 * t + e] : 0;
    }
    for (let d = 0; d < 3; d++) {
      normals[d * stride + t] = real ? g.normal[3 * t + d] : 0;
      corners[d * stride + t] = real ? g.corner[3 * t + d] : 0;
    }
    areas[t] = real ? g.area[t] : 0;
  }
  return {
    count,
    stride,
    points: placeOf(place),
    normals: placeOf(normals),
    curls: placeOf(curls),
    areas: placeOf(areas),
    corners: placeOf(corners),
  };
}
