import { type Kernels, placeOf, type WaveSurface } from "#engine/numerics";
import type { PanelEdges } from "./panelEdges.ts";
import type { PanelGeometry } from "./panelGeometry.ts";

/** Doubles that `loadSurface` takes for so many panels (their edges are three halves as many). */
export function surfaceRoom(panels: number): number {
  return 11 * (1.5 * panels + 4) + 11 * panels + 32;
}

/** Copies a surface into a kernel memory in the layout of the wave kernel. */
export function loadSurface(kernels: Kernels, g: PanelGeometry, edges: PanelEdges): WaveSurface {
  const stride = 2 * Math.ceil(edges.count / 2) + 2;
  const middles = kernels.allocate(9 * stride);
  const joins = kernels.allocateIndices(4 * stride);
  const corners = kernels.allocateIndices(3 * g.panels);
  const curls = kernels.allocate(9 * g.panels);
  corners.set(g.corner);
  curls.set(g.curl);
  const far = 1e3 * g.size.reduce((a, b) => Math.max(a, b), 0);
  for (let d = 0; d < 3; d++) middles.fill(far, d * stride + edges.count, (d + 1) * stride);
  for (let e = 0; e < edges.count; e++) {
    for (let d = 0; d < 3; d++) {
      middles[d * stride + e] = edges.middle[3 * e + d];
      middles[(3 + d) * stride + e] = edges.facing[3 * e + d];
    }
    for (let side = 0; side < 2; side++) {
      const third = g.area[edges.sides[2 * e + side]] / 3;
      middles[(6 + side) * stride + e] = third;
      middles[8 * stride + e] += third;
      joins[side * stride + e] = edges.ends[2 * e + side];
      joins[(2 + side) * stride + e] = edges.sides[2 * e + side];
    }
  }
  return {
    edges: edges.count,
    nodes: g.nodes,
    panels: g.panels,
    stride,
    middles: placeOf(middles),
    joins: placeOf(joins),
    corners: placeOf(corners),
    curls: placeOf(curls),
  };
}
