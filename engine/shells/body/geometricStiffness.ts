import { addElements, type SparseSymmetric } from "#engine/numerics";
import { type Facets, facetGeometric } from "../facetForces.ts";
import { ribGeometric } from "../ribForces.ts";
import type { BodyPiece, BodySystem } from "./bodyModel.ts";
import { geometricBeam } from "./geometricBeam.ts";
import { geometricBlocks } from "./geometricBlocks.ts";
import {
  type BeamChain,
  type BodyFacets,
  type BodyForces,
  beamChains,
  bodyFacets,
  type PlateForces,
} from "./geometricForces.ts";
import { addTriangleBlocks } from "./geometricScatter.ts";
import { joinPieces } from "./joinPieces.ts";
import { backSigns } from "./motionRows.ts";
import { motionsOf } from "./pieceMatrices.ts";
import { plateSlope } from "./plateMesh.ts";
import { reflect } from "./platePiece.ts";

/**
 * Geometric stiffness of the loaded body, on the pattern of its stiffness: membrane forces of top, back and sides, axial
 * forces of ribs, neck, board and rods, and the turning of the arms inside rigid blocks. The moments' share is left out, as
 * is usual. `motion`: the loaded body's, from which the forces came.
 */
export function bodyGeometric(
  system: BodySystem,
  forces: BodyForces,
  motion: Float64Array,
  facets: BodyFacets = bodyFacets(system),
): SparseSymmetric {
  const parts = system.pieces.map((piece) => {
    const made = { ...piece.stiffness, values: new Float64Array(piece.stiffness.values.length) };
    if (piece.part === "top" || piece.part === "back") {
      const own = forces[piece.part];
      if (own !== null) addPlate(system, piece.part, facets[piece.part], own, made);
    } else addFrames(system, piece, facets.side, forces, made);
    return [made.values];
  });
  const joined = joinPieces(system.plan, parts)[0];
  const { start, row } = system.layout.map;
  for (const { node, stiffness } of geometricBlocks(system, motion)) {
    const turns = [3, 4, 5].map((q) => 6 * node + q);
    addElements(
      [joined],
      Int32Array.from(turns, (k) => (start[k] < start[k + 1] ? row[start[k]] : -1)),
      [stiffness],
    );
  }
  return joined;
}

function addPlate(
  system: BodySystem,
  which: "top" | "back",
  facets: Facets | null,
  forces: PlateForces,
  to: SparseSymmetric,
): void {
  const mesh = system.mesh[which];
  const panel = system.mesh[which === "top" ? "topPanel" : "backPanel"];
  if (facets === null || mesh === null || panel === null) return;
  const put = (dofs: Int32Array, k: Float64Array): void => {
    if (which === "back") reflect(k, dofs.length, backSigns);
    addElements([to], dofs, [k]);
  };
  facetGeometric(facets, forces.triangles, (e, k) => {
    if (which === "back") reflect(k, 18, backSigns);
    addTriangleBlocks(to, mesh.triangles.subarray(3 * e, 3 * e + 3), k);
  });
  const first: number[] = [];
  let turn = 2 * mesh.nodes.length;
  for (const chain of mesh.ribs) {
    first.push(turn);
    turn += chain.length;
  }
  ribGeometric(
    panel,
    mesh,
    forces.ribs,
    (r, k, stiffness) => {
      const chain = mesh.ribs[r];
      put(motionsOf([chain[k], chain[k + 1]], [first[r] + k, first[r] + k + 1]), stiffness);
    },
    plateSlope(system.spec, which),
  );
}

/** Sides, rods, neck and board: whatever of them the piece holds. */
function addFrames(
  system: BodySystem,
  piece: BodyPiece,
  side: Facets | null,
  forces: BodyForces,
  to: SparseSymmetric,
): void {
  const own = new Map(Array.from(piece.nodes ?? [], (node, k) => [node, k]));
  const local = (nodes: ArrayLike<number>): Int32Array =>
    motionsOf(Array.from(nodes, (node) => own.get(node) ?? -1));
  const { places } = system.layout;
  const beams = (chain: BeamChain, axial: Float64Array): void => {
    axial.forEach((force, k) => {
      const [i, j] = [chain.nodes[k], chain.nodes[k + 1]];
      const [a, b] = [places.subarray(3 * i, 3 * i + 3), places.subarray(3 * j, 3 * j + 3)];
      const shear = chain.GA[k] * ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2 + (b[2] - a[2]) ** 2);
      const phi = (EI: number): number => (shear > 0 ? (12 * EI) / shear : 0);
      addElements([to], local([i, j]), [
        geometricBeam(a, b, force, phi(chain.EIup[k]), phi(chain.EIacross[k])),
      ]);
    });
  };
  const chains = beamChains(system);
  if (piece.part === "neck") {
    beams(chains.neck, forces.neck);
    beams(chains.tongue, forces.tongue);
    return;
  }
  if (side !== null) {
    const corners = new Int32Array(3);
    facetGeometric(side, forces.side, (e, k) => {
      for (let c = 0; c < 3; c++) corners[c] = own.get(side.triangles[3 * e + c]) ?? -1;
      addTriangleBlocks(to, corners, k);
    });
  }
  for (const [r, chain] of chains.rods.entries()) beams(chain, forces.rods[r]);
}
