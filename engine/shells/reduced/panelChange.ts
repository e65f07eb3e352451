import { addElements, type SparseSymmetric, symmetricPattern } from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { elementLaminates } from "../elementLaminates.ts";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import type { Laminate } from "../laminate.ts";
import type { Panel } from "../panel.ts";
import { ribElements } from "../ribElements.ts";
import type { ShellMesh } from "../shellMesh.ts";
import type { ReduciblePlate, StructureChange } from "./reducedModel.ts";

/** A plate's laminates and rib matrices as they are, to hold changed ones against. */
export interface PanelElements {
  readonly laminates: readonly Laminate[];
  readonly ribs: readonly RibMatrices[];
}

interface RibMatrices {
  readonly rib: number;
  readonly at: number;
  readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
}

export function panelElements(panel: Panel, mesh: ShellMesh): PanelElements {
  const ribs: RibMatrices[] = [];
  ribElements(panel, mesh, (rib, at, e) =>
    ribs.push({
      rib,
      at,
      stiffness: e.stiffness.slice(),
      loss: e.loss.slice(),
      mass: e.mass.slice(),
    }),
  );
  return { laminates: elementLaminates(panel, mesh), ribs };
}

/**
 * Matrices of the plate with the panel `after` minus those with its own panel, over the elements that differ. `before`
 * is `panelElements` of the plate's own panel. `after` must have the same plan: ribs, patches and outline where they are.
 */
export function panelChange(plate: ReduciblePlate, before: PanelElements, after: Panel): StructureChange {
  const { mesh } = plate;
  const now = panelElements(after, mesh);
  const lists: Int32Array[] = [];
  const stiffness: Float64Array[] = [];
  const loss: Float64Array[] = [];
  const mass: Float64Array[] = [];
  const element = emptyTriangle();
  const corners = new Float64Array(9);
  before.laminates.forEach((was, e) => {
    const is = now.laminates[e];
    if (sameLaminate(was, is)) return;
    const nodes = mesh.triangles.subarray(3 * e, 3 * e + 3);
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * nodes[c] + k];
    shellTriangle(corners, is, element);
    const [k, l, m] = [element.stiffness.slice(), element.loss.slice(), element.mass.slice()];
    shellTriangle(corners, was, element);
    lists.push(motionsOf(nodes));
    stiffness.push(less(k, element.stiffness));
    loss.push(less(l, element.loss));
    mass.push(less(m, element.mass));
  });
  const turn = ribTurns(mesh);
  before.ribs.forEach((was, i) => {
    const is = now.ribs[i];
    const k = less(is.stiffness.slice(), was.stiffness);
    const m = less(is.mass.slice(), was.mass);
    const l = less(is.loss.slice(), was.loss);
    if (zero(k) && zero(m) && zero(l)) return;
    const chain = mesh.ribs[was.rib];
    const first = turn[was.rib] + was.at;
    lists.push(motionsOf(chain.subarray(was.at, was.at + 2), [first, first + 1]));
    stiffness.push(k);
    loss.push(l);
    mass.push(m);
  });
  return assembled(plate.motions, lists, stiffness, loss, mass);
}

/** Sum of the element matrices on the motions they touch, in ascending order. */
function assembled(
  all: MotionMap,
  lists: readonly Int32Array[],
  stiffness: readonly Float64Array[],
  loss: readonly Float64Array[],
  mass: readonly Float64Array[],
): StructureChange {
  const local = new Int32Array(all.start.length - 1).fill(-1);
  for (const list of lists) for (const k of list) local[k] = 0;
  const touched: number[] = [];
  for (let k = 0; k < local.length; k++) {
    // a motion that hangs on no row is held
    if (local[k] === 0 && all.start[k + 1] > all.start[k]) local[k] = touched.push(k) - 1;
    else local[k] = -1;
  }
  const dofs = lists.map((list) => list.map((k) => local[k]));
  const k = symmetricPattern(touched.length, dofs);
  const like = (): SparseSymmetric => ({ ...k, values: new Float64Array(k.values.length) });
  const matrices = [k, like(), like()] as const;
  dofs.forEach((d, e) => {
    addElements(matrices, d, [stiffness[e], loss[e], mass[e]]);
  });
  return {
    motions: mapOf(all, touched),
    stiffness: matrices[0],
    lossStiffness: matrices[1],
    mass: matrices[2],
  };
}

/** The rows of a map that belong to some motions. */
function mapOf(all: MotionMap, motions: readonly number[]): MotionMap {
  const start = new Uint32Array(motions.length + 1);
  motions.forEach((k, i) => {
    start[i + 1] = start[i] + all.start[k + 1] - all.start[k];
  });
  const row = new Uint32Array(start[motions.length]);
  const weight = new Float64Array(row.length);
  motions.forEach((k, i) => {
    row.set(all.row.subarray(all.start[k], all.start[k + 1]), start[i]);
    weight.set(all.weight.subarray(all.start[k], all.start[k + 1]), start[i]);
  });
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

/** a - b, in a. */
function less(a: Float64Array, b: Float64Array): Float64Array {
  for (let k = 0; k < a.length; k++) a[k] -= b[k];
  return a;
}

function zero(a: Float64Array): boolean {
  return a.every((v) => v === 0);
}
