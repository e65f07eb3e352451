import { type EdgeBeam, edgeBeam, emptyEdgeBeam } from "./elements/edgeBeam.ts";
import type { Panel } from "./panel.ts";
import { ribEdges } from "./ribEdges.ts";
import type { ShellMesh } from "./shellMesh.ts";

/**
 * Calls `take` with every rib element (rib, place in its chain) and its matrices (one memory, filled anew each time).
 * `slope`: rise per metre along x of the plane that the dome stands on (a tapered body's back).
 */
export function ribElements(
  panel: Panel,
  mesh: ShellMesh,
  take: (rib: number, at: number, beam: EdgeBeam) => void,
  slope = 0,
): void {
  const beam = emptyEdgeBeam();
  panel.ribs.forEach((_, r) => {
    ribEdges(panel, mesh, r, slope).forEach((edge, k) => {
      edgeBeam(edge.length, edge.tangent, edge.normal, edge.section, beam);
      take(r, k, beam);
    });
  });
}
