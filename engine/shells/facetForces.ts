import { triangleScratch, triangleStrains } from "./elements/shellTriangle.ts";
import {
  forcesByTriangle,
  forcesOfStrains,
  triangleGrowthLoad,
  triangleMeanStrains,
} from "./elements/triangleForces.ts";
import { emptyTriangleGeometric, triangleGeometric } from "./elements/triangleGeometric.ts";
import type { Laminate } from "./laminate.ts";

/** Facets of a plate or side: what is needed to look into them after a solution. */
export interface Facets {
  /** x, y, z by node, m. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle, anticlockwise seen from outside. */
  readonly triangles: Uint32Array;
  readonly laminates: readonly Laminate[];
  /** The direction from which each laminate's angles count (projected on the facet); absent: x. */
  readonly along?: (triangle: number) => Float64Array;
}

const alongX = Float64Array.of(1, 0, 0);

/** Calls `visit` for each facet with its corner coordinates filled in (one memory). */
function eachFacet(f: Facets, visit: (e: number, corners: Float64Array, along: Float64Array) => void): void {
  const corners = new Float64Array(9);
  for (let e = 0; e < f.triangles.length / 3; e++) {
    for (let c = 0; c < 3; c++)
      for (let k = 0; k < 3; k++) corners[3 * c + k] = f.nodes[3 * f.triangles[3 * e + c] + k];
    visit(e, corners, f.along?.(e) ?? alongX);
  }
}

/**
 * Mean generalised strains of every facet, 8 by triangle (laminate.ts), in the element's own axes (triangleForces.ts).
 * `motion`: 6 by node.
 */
export function facetStrains(f: Facets, motion: Float64Array): Float64Array {
  const out = new Float64Array((forcesByTriangle * f.triangles.length) / 3);
  const s = triangleScratch();
  const u = new Float64Array(18);
  eachFacet(f, (e, corners, along) => {
    triangleStrains(corners, f.laminates[e], s, along);
    for (let c = 0; c < 3; c++)
      for (let k = 0; k < 6; k++) u[6 * c + k] = motion[6 * f.triangles[3 * e + c] + k];
    triangleMeanStrains(u, s, out, forcesByTriangle * e);
  });
  return out;
}

/**
 * Forces and moments per metre of every facet, 8 by triangle: Nx Ny Nxy Mx My Mxy Qx Qy in the element's own axes
 * (triangleForces.ts). `motion`: 6 by node.
 */
export function facetForces(f: Facets, motion: Float64Array): Float64Array {
  const out = facetStrains(f, motion);
  const strains = new Float64Array(forcesByTriangle);
  const forces = new Float64Array(forcesByTriangle);
  for (let e = 0; e < f.laminates.length; e++) {
    const at = forcesByTriangle * e;
    for (let k = 0; k < forcesByTriangle; k++) strains[k] = out[at + k];
    forcesOfStrains(strains, f.laminates[e], forces, 0);
    out.set(forces, at);
  }
  return out;
}

/** Calls `take` with the geometric stiffness of every facet (18 x 18, one memory) under `forces` (as from facetForces). */
export function facetGeometric(
  f: Facets,
  forces: Float64Array,
  take: (triangle: number, stiffness: Float64Array) => void,
): void {
  const s = triangleScratch();
  const g = emptyTriangleGeometric();
  const out = new Float64Array(324);
  eachFacet(f, (e, corners, along) => {
    const area = triangleStrains(corners, f.laminates[e], s, along);
    triangleGeometric(forces, forcesByTriangle * e, area, s, g, out);
    take(e, out);
  });
}

/** Calls `take` with the loads (18, one memory) on the corners of every facet that grows (laminate.ts, `held`). */
export function facetGrowthLoads(f: Facets, take: (triangle: number, load: Float64Array) => void): void {
  const s = triangleScratch();
  const out = new Float64Array(18);
  eachFacet(f, (e, corners, along) => {
    const { held } = f.laminates[e];
    if (held === null) return;
    const area = triangleStrains(corners, f.laminates[e], s, along);
    triangleGrowthLoad(held, area, s, out);
    take(e, out);
  });
}
