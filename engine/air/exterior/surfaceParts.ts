import type { ExteriorSurface } from "./exterior.ts";
import { type NearPairs, nearPairs } from "./nearPairs.ts";
import { type PanelEdges, panelEdges } from "./panelEdges.ts";
import { type PanelGeometry, panelGeometry } from "./panelGeometry.ts";

/** A closed surface as the boundary integrals see it at any frequency. */
export interface SurfaceParts {
  readonly geometry: PanelGeometry;
  readonly edges: PanelEdges;
  readonly near: NearPairs;
}

export function surfaceParts(surface: ExteriorSurface): SurfaceParts {
  const geometry = panelGeometry(surface);
  const edges = panelEdges(geometry);
  return { geometry, edges, near: nearPairs(geometry, edges) };
}
