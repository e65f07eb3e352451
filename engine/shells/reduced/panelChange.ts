import { addElements, type SparseSymmetric, symmetricPattern } from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { lineMass } from "../body/platePiece.ts";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import type { Laminate } from "../laminate.ts";
import type { Panel } from "../panel.ts";
import { ribElements } from "../ribElements.ts";
import type { ShellMesh } from "../shellMesh.ts";
import { changedRegion } from "./changedRegion.ts";
import { cutOut } from "./cutOut.ts";
import type { ReduciblePlate, StructureChange } from "./reducedModel.ts";

/**
 * Matrices of the plate with the panel `after` minus those with its own, over the elements that differ. `after` must have
 * the same plan: as many ribs and patches, where they are.
 */
export function panelChange(plate: ReduciblePlate, after: Panel): StructureChange {
  const { mesh, panel: before } = plate;
  const region = changedRegion(before, after, mesh);
  const { part } = cutOut(mesh, region.triangles);
  const { own } = plate;
  const was = own === null ? plate.laminates(before, part) : Array.from(region.places, (e) => own[e]);
  const is = plate.laminates(after, part);
  const faces: number[] = [];
  for (let e = 0; e < was.length; e++) if (!sameLaminate(was[e], is[e])) faces.push(e);
  const chains = region.ribs.map((r) => mesh.ribs[r]);
  const turn = ribTurns(mesh);
  const lists = faces.map((e) => motionsOf(region.triangles.subarray(3 * e, 3 * e + 3)));
  chains.forEach((chain, r) => {
    for (let k = 0; k + 1 < chain.length; k++) {
      const first = turn[region.ribs[r]] + k;
      lists.push(motionsOf(chain.subarray(k, k + 2), [first, first + 1]));
    }
  });
  const firstEdge = lists.length;
  const edges = region.everywhere ? plate.overhang(before) : [];
  const later = region.everywhere ? plate.overhang(after) : [];
  for (const { i, j } of edges) lists.push(motionsOf(Uint32Array.of(i, j)));

  const { dofs, touched } = localDofs(plate.motions, lists);
  const stiffness = symmetricPattern(touched.length, dofs);
  const like = (): SparseSymmetric => ({ ...stiffness, values: new Float64Array(stiffness.values.length) });
  const matrices = [stiffness, like(), like()] as const;
  const [one, two] = [emptyTriangle(), emptyTriangle()];
  const corners = new Float64Array(9);
  faces.forEach((e, f) => {
    for (let c = 0; c < 3; c++) {
      const node = region.triangles[3 * e + c];
      for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * node + k];
    }
    shellTriangle(corners, was[e], one);
    shellTriangle(corners, is[e], two);
    take(two, one);
    addElements(matrices, dofs[f], [two.stiffness, two.loss, two.mass]);
  });

  const some: ShellMesh = { ...mesh, ribs: chains };
  const only = (panel: Panel): Panel => ({ ...panel, ribs: region.ribs.map((r) => panel.ribs[r]) });
  for (const [panel, sign] of [
    [after, 1],
    [before, -1],
  ] as const) {
    let at = faces.length;
    ribElements(
      only(panel),
      some,
      (_r, _k, e) => {
        if (sign < 0)
          for (const a of [e.stiffness, e.loss, e.mass]) for (let i = 0; i < a.length; i++) a[i] = -a[i];
        addElements(matrices, dofs[at++], [e.stiffness, e.loss, e.mass]);
      },
      plate.slope,
    );
  }
  const none = new Float64Array(144);
  edges.forEach(({ mass }, e) => {
    addElements(matrices, dofs[firstEdge + e], [none, none, lineMass(later[e].mass - mass)]);
  });
  return {
    motions: mapOf(plate.motions, touched),
    stiffness,
    lossStiffness: matrices[1],
    mass: matrices[2],
  };
}

interface Matrices {
  readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
}

/** a - b, in a. */
function take(a: Matrices, b: Matrices): void {
  for (let k = 0; k < a.stiffness.length; k++) {
    a.stiffness[k] -= b.stiffness[k];
    a.loss[k] -= b.loss[k];
    a.mass[k] -= b.mass[k];
  }
}

/** Motions that elements touch, ascending, and the elements' motions numbered among them; -1: hangs on no row, held. */
function localDofs(
  all: MotionMap,
  lists: readonly Int32Array[],
): { readonly touched: readonly number[]; readonly dofs: Int32Array[] } {
  const local = new Int32Array(all.start.length - 1).fill(-1);
  for (const list of lists) for (const k of list) local[k] = 0;
  const touched: number[] = [];
  for (let k = 0; k < local.length; k++) {
    if (local[k] === 0 && all.start[k + 1] > all.start[k]) local[k] = touched.push(k) - 1;
    else local[k] = -1;
  }
  return { touched, dofs: lists.map((list) => list.map((k) => local[k])) };
}

/** The rows of a map that belong to some motions. */
export function mapOf(all: MotionMap, motions: ArrayLike<number>): MotionMap {
  const start = new Uint32Array(motions.length + 1);
  for (let i = 0; i < motions.length; i++)
    start[i + 1] = start[i] + all.start[motions[i] + 1] - all.start[motions[i]];
  const row = new Uint32Array(start[motions.length]);
  const weight = new Float64Array(row.length);
  for (let i = 0; i < motions.length; i++) {
    const [from, to] = [all.start[motions[i]], all.start[motions[i] + 1]];
    row.set(all.row.subarray(from, to), start[i]);
    weight.set(all.weight.subarray(from, to), start[i]);
  }
  return { start, row, weight };
}

/** First turn of each rib among the plate's motions: six by node, then rib by rib a turn by node of its chain. */
function ribTurns(mesh: ShellMesh): number[] {
  let next = 2 * mesh.nodes.length;
  return mesh.ribs.map((chain) => {
    const first = next;
    next += chain.length;
    return first;
  });
}

function motionsOf(nodes: Uint32Array, extra: readonly number[] = []): Int32Array {
  const list = new Int32Array(6 * nodes.length + extra.length);
  nodes.forEach((node, c) => {
    for (let k = 0; k < 6; k++) list[6 * c + k] = 6 * node + k;
  });
  list.set(extra, 6 * nodes.length);
  return list;
}

function sameLaminate(a: Laminate, b: Laminate): boolean {
  if (a === b) return true;
  for (let k = 0; k < 3; k++) if (a.inertia[k] !== b.inertia[k]) return false;
  for (let k = 0; k < 64; k++) {
    if (a.stiffness[k] !== b.stiffness[k] || a.loss[k] !== b.loss[k]) return false;
  }
  return true;
}
