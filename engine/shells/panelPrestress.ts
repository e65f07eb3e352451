import { addElements, invariant, type SparseSymmetric } from "#engine/numerics";
import { elementLaminates } from "./elementLaminates.ts";
import { type Facets, facetForces, facetGeometric } from "./facetForces.ts";
import type { PanelSystem } from "./panelSystem.ts";

function facetsOf({ panel, mesh }: PanelSystem): Facets {
  invariant(panel.ribs.length === 0, () => "ribs carry force too: their plate belongs into a body");
  return { nodes: mesh.nodes, triangles: mesh.triangles, laminates: elementLaminates(panel, mesh) };
}

/** Forces and moments per metre of an unribbed panel, 8 by triangle (facetForces.ts); `motion`: 6 by node. */
export function panelForces(system: PanelSystem, motion: Float64Array): Float64Array {
  return facetForces(facetsOf(system), motion);
}

/**
 * Geometric stiffness of an unribbed panel under the membrane forces of `forces` (8 by triangle), on the pattern of its
 * stiffness.
 */
export function panelGeometric(system: PanelSystem, forces: Float64Array): SparseSymmetric {
  const { mesh, stiffness, dof } = system;
  const out = { ...stiffness, values: new Float64Array(stiffness.values.length) };
  const rows = new Int32Array(18);
  facetGeometric(facetsOf(system), forces, (e, k) => {
    for (let c = 0; c < 3; c++)
      for (let m = 0; m < 6; m++) rows[6 * c + m] = dof[6 * mesh.triangles[3 * e + c] + m];
    addElements([out], rows, [k]);
  });
  return out;
}
