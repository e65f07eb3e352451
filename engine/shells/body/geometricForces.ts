import { type Facets, facetForces } from "../facetForces.ts";
import { ribForces } from "../ribForces.ts";
import type { ShellMesh } from "../shellMesh.ts";
import type { BodySystem } from "./bodyModel.ts";
import { frameAxes, stationValue } from "./frameLine.ts";
import { backSigns } from "./motionRows.ts";
import { plateSlope } from "./plateMesh.ts";
import { seatedLaminates } from "./platePiece.ts";
import { levelTangent, sideLaminates } from "./rimPiece.ts";

/** Forces in one plate. */
export interface PlateForces {
  /**
   * 8 by triangle of the plate's own mesh, in its plate frame (x as in plan, second axis to the left of it seen from
   * outside the top, for the back too as in plan): Nx Ny Nxy (N/m), Mx My Mxy (N m/m), Qx Qy (N/m).
   */
  readonly triangles: Float64Array;
  /** By rib, 3 by element: axial force (N), moment about n x t (N m), shear force (N). */
  readonly ribs: readonly Float64Array[];
}

/** What the parts of the body carry. */
export interface BodyForces {
  readonly top: PlateForces | null;
  readonly back: PlateForces | null;
  /** 8 by side triangle in the order of the surface: x along the edge, level; y up. */
  readonly side: Float64Array;
  /** Axial force (N, tension positive) of each element of the neck, of the board's clear end, of each rod. */
  readonly neck: Float64Array;
  readonly tongue: Float64Array;
  readonly rods: readonly Float64Array[];
}

/** Facets of a plate in its plate frame. */
function plateFacets(system: BodySystem, which: "top" | "back"): Facets | null {
  const mesh = system.mesh[which];
  const panel = system.mesh[which === "top" ? "topPanel" : "backPanel"];
  if (mesh === null || panel === null) return null;
  const { laminates } = seatedLaminates(system.spec, which, panel, mesh);
  return { nodes: mesh.nodes, triangles: mesh.triangles, laminates };
}

/** Facets of the sides in the body frame. */
function sideFacets({ spec, mesh }: BodySystem): Facets | null {
  if (spec.sides === null) return null;
  const { nodes, triangles, part } = mesh.surface;
  const own = sideTriangles(part);
  const corners = own.map((e) => {
    const p = new Float64Array(9);
    for (let c = 0; c < 3; c++)
      for (let k = 0; k < 3; k++) p[3 * c + k] = nodes[3 * triangles[3 * e + c] + k];
    return p;
  });
  const laminateAt = sideLaminates(spec, spec.sides);
  return {
    nodes,
    triangles: Uint32Array.from(own.flatMap((e) => [...triangles.subarray(3 * e, 3 * e + 3)])),
    laminates: corners.map(laminateAt),
    along: (e) => levelTangent(corners[e]),
  };
}

/** Triangles of the surface that belong to the sides. */
function sideTriangles(part: Uint8Array): number[] {
  const own: number[] = [];
  part.forEach((p, e) => {
    if (p === 2) own.push(e);
  });
  return own;
}

/** The facets of all parts, to be made once for forces and geometric stiffness. */
export interface BodyFacets {
  readonly top: Facets | null;
  readonly back: Facets | null;
  readonly side: Facets | null;
}

export function bodyFacets(system: BodySystem): BodyFacets {
  return { top: plateFacets(system, "top"), back: plateFacets(system, "back"), side: sideFacets(system) };
}

/** Forces in all parts under `motion` (all motions of the layout, as `bodyStatic` gives them). */
export function bodyForces(
  system: BodySystem,
  motion: Float64Array,
  facets: BodyFacets = bodyFacets(system),
): BodyForces {
  const { spec, layout } = system;
  const { side } = facets;
  const chains = beamChains(system);
  return {
    top: plateForces(system, "top", facets.top, motion),
    back: plateForces(system, "back", facets.back, motion),
    side: side === null ? new Float64Array(0) : facetForces(side, motion),
    neck: axialForces(chains.neck, layout.places, motion),
    tongue: axialForces(chains.tongue, layout.places, motion),
    rods: spec.rods.map((_, r) => axialForces(chains.rods[r], layout.places, motion)),
  };
}

function plateForces(
  system: BodySystem,
  which: "top" | "back",
  facets: Facets | null,
  motion: Float64Array,
): PlateForces | null {
  const mesh = system.mesh[which];
  const panel = system.mesh[which === "top" ? "topPanel" : "backPanel"];
  if (facets === null || mesh === null || panel === null) return null;
  const own = plateMotion(system, which, mesh, motion);
  const turns = ribTurns(mesh, own.subarray(2 * mesh.nodes.length));
  return {
    triangles: facetForces(facets, own),
    ribs: ribForces(panel, mesh, own, turns, plateSlope(system.spec, which)),
  };
}

/** The plate's own motions (6 by node of its mesh, then its ribs' turns) in its plate frame. */
export function plateMotion(
  { layout }: BodySystem,
  which: "top" | "back",
  mesh: ShellMesh,
  motion: Float64Array,
): Float64Array {
  const list = which === "top" ? layout.topMotion : layout.backMotion;
  const plate = 2 * mesh.nodes.length;
  return Float64Array.from(list, (k, i) =>
    which === "back" && i < plate ? backSigns[i % 6] * motion[k] : motion[k],
  );
}

function ribTurns(mesh: ShellMesh, turns: Float64Array): Float64Array[] {
  let from = 0;
  return mesh.ribs.map((chain) => {
    from += chain.length;
    return turns.subarray(from - chain.length, from);
  });
}

/** A line of beam elements: nodes, and of each element its axial stiffness and how its bending and shear stiffness compare. */
export interface BeamChain {
  readonly nodes: Uint32Array;
  readonly EA: Float64Array;
  /** N m2, deflection up and across. */
  readonly EIup: Float64Array;
  readonly EIacross: Float64Array;
  /** N, 0: rigid in shear. */
  readonly GA: Float64Array;
}

/** The body's beams by element, sections at the elements' middles. */
export function beamChains({ spec, layout }: BodySystem): {
  readonly neck: BeamChain;
  readonly tongue: BeamChain;
  readonly rods: readonly BeamChain[];
} {
  const tapered = (nodes: Uint32Array, stations: NonNullable<typeof spec.neck>["stations"]): BeamChain => {
    const pieces = Math.max(0, nodes.length - 1);
    const value = (figure: (q: (typeof stations)[number]) => number): Float64Array =>
      Float64Array.from({ length: pieces }, (_, k) => stationValue(stations, figure, (k + 0.5) / pieces));
    return {
      nodes,
      EA: value((q) => q.EA),
      EIup: value((q) => q.EIz),
      EIacross: value((q) => q.EIy),
      GA: value((q) => q.GA ?? 0),
    };
  };
  return {
    neck: tapered(layout.neckNode, spec.neck?.stations ?? []),
    tongue: tapered(layout.tongueNode, spec.neck?.tongue?.stations ?? []),
    rods: spec.rods.map((rod, r) => {
      const nodes = layout.rodNode[r];
      const even = (v: number): Float64Array => new Float64Array(nodes.length - 1).fill(v);
      const area = (Math.PI / 4) * (rod.diameter ** 2 - rod.bore ** 2);
      const second = (Math.PI / 64) * (rod.diameter ** 4 - rod.bore ** 4);
      return {
        nodes,
        EA: even(rod.stiffness * area),
        EIup: even(rod.stiffness * second),
        EIacross: even(rod.stiffness * second),
        GA: even(0),
      };
    }),
  };
}

function axialForces({ nodes, EA }: BeamChain, places: Float64Array, motion: Float64Array): Float64Array {
  return EA.map((stiffness, k) => {
    const [i, j] = [nodes[k], nodes[k + 1]];
    const { along, length } = frameAxes(places.subarray(3 * i, 3 * i + 3), places.subarray(3 * j, 3 * j + 3));
    let stretch = 0;
    for (let q = 0; q < 3; q++) stretch += along[q] * (motion[6 * j + q] - motion[6 * i + q]);
    return (stiffness * stretch) / length;
  });
}
