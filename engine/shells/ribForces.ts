import { type BeamSection, beamAt, beamWeight } from "./elements/edgeBeam.ts";
import { edgeBeamGeometric } from "./elements/edgeBeamGeometric.ts";
import type { Panel } from "./panel.ts";
import { type RibEdge, ribEdges } from "./ribEdges.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Numbers by rib element: axial force (N, tension positive), moment about b = n x t at its middle (N m), shear force (N). */
export const forcesByRibElement = 3;

function shearPhi({ length }: RibEdge, middle: BeamSection): number {
  return middle.GAs > 0 ? (12 * middle.EI) / (middle.GAs * length * length) : 0;
}

/**
 * Forces of every rib element, rib after rib: 3 numbers each. `motion`: 6 by node; `turns[r]`: the turn of the rib's own
 * section at each node of its chain. What the rib grows by itself takes no force.
 */
export function ribForces(
  panel: Panel,
  mesh: ShellMesh,
  motion: Float64Array,
  turns: readonly Float64Array[],
  slope = 0,
): Float64Array[] {
  return panel.ribs.map(({ material }, r) => {
    const own = material.growth?.along ?? 0;
    const edges = ribEdges(panel, mesh, r, slope);
    const out = new Float64Array(forcesByRibElement * edges.length);
    edges.forEach((edge, k) => {
      const { tangent: t, normal: n, length, section } = edge;
      const [ends, middle] = [[section(0), section(1)], section(0.5)];
      const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]];
      const slopeOfAxis = (ends[1].glue + ends[1].centroid - ends[0].glue - ends[0].centroid) / length;
      let strain = 0;
      let bend = 0;
      let shear = 0;
      for (let end = 0; end < 2; end++) {
        const at = 6 * edge.nodes[end];
        const dot = (d: ArrayLike<number>, from: number): number =>
          d[0] * motion[from] + d[1] * motion[from + 1] + d[2] * motion[from + 2];
        const sign = end === 0 ? -1 : 1;
        const rise = dot(n, at);
        const plateTurn = dot(b, at + 3);
        const turn = plateTurn + turns[r][k + end];
        strain +=
          (sign *
            (dot(t, at) + slopeOfAxis * rise + ends[end].glue * plateTurn + ends[end].centroid * turn)) /
          length;
        bend += (sign * turn) / length;
        shear += (sign * rise) / length + turn / 2;
      }
      const phi = shearPhi(edge, middle);
      const at = forcesByRibElement * k;
      out[at] = middle.EA * (strain - own);
      out[at + 1] = middle.EI * bend;
      out[at + 2] = phi > 0 ? (middle.GAs * phi * shear) / (1 + phi) : 0;
    });
    return out;
  });
}

/**
 * Calls `take` with the loads (14 as in edgeBeam.ts, one memory) of every rib element that grows along itself: EA times the
 * growth against the axial strain of unit motions.
 */
export function ribGrowthLoads(
  panel: Panel,
  mesh: ShellMesh,
  take: (rib: number, at: number, load: Float64Array) => void,
  slope = 0,
): void {
  const out = new Float64Array(14);
  panel.ribs.forEach(({ material }, r) => {
    if (material.growth === undefined) return;
    const own = material.growth.along;
    ribEdges(panel, mesh, r, slope).forEach(({ tangent: t, normal: n, length, section }, k) => {
      const ends = [section(0), section(1)];
      const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]];
      const slopeOfAxis = (ends[1].glue + ends[1].centroid - ends[0].glue - ends[0].centroid) / length;
      // the mean of EA as edgeBeam.ts takes it: a kink of the height may lie within the element
      const force = own * beamAt.reduce((sum, xi, g) => sum + beamWeight[g] * section(xi).EA, 0);
      for (let end = 0; end < 2; end++) {
        const f = end === 0 ? -force : force;
        for (let q = 0; q < 3; q++) {
          out[6 * end + q] = f * (t[q] + slopeOfAxis * n[q]);
          out[6 * end + 3 + q] = f * (ends[end].glue + ends[end].centroid) * b[q];
        }
        out[12 + end] = f * ends[end].centroid;
      }
      take(r, k, out);
    });
  });
}

/** Calls `take` with the geometric stiffness of every rib element (14 x 14, one memory) under `forces` (as from ribForces). */
export function ribGeometric(
  panel: Panel,
  mesh: ShellMesh,
  forces: readonly Float64Array[],
  take: (rib: number, at: number, stiffness: Float64Array) => void,
  slope = 0,
): void {
  const out = new Float64Array(196);
  panel.ribs.forEach((_, r) => {
    ribEdges(panel, mesh, r, slope).forEach((edge, k) => {
      const [p, q] = [edge.section(0), edge.section(1)];
      edgeBeamGeometric(
        edge.length,
        edge.tangent,
        edge.normal,
        [p.glue, q.glue],
        [p.glue + p.centroid, q.glue + q.centroid],
        shearPhi(edge, edge.section(0.5)),
        forces[r][forcesByRibElement * k],
        out,
      );
      take(r, k, out);
    });
  });
}
