import { addElements, type SparseSymmetric, symmetricPattern } from "#engine/numerics";
import { edgeSprings, heldMotions } from "./edgeSupport.ts";
import { elementLaminates } from "./elementLaminates.ts";
import { emptyTriangle, shellTriangle } from "./elements/shellTriangle.ts";
import type { Panel } from "./panel.ts";
import { ribElements } from "./ribElements.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Matrices of a panel with its edge held. Node motions run ux, uy, uz, rx, ry, rz in the plate frame. */
export interface PanelSystem {
  readonly panel: Panel;
  readonly mesh: ShellMesh;
  /** 6 by node: its row in the matrices, or -1 where the edge holds it. */
  readonly dof: Int32Array;
  /** Node of each row, for the ordering. */
  readonly group: Uint32Array;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  /** Imaginary part of the complex stiffness: phi' lossStiffness phi / phi' stiffness phi is the loss factor. */
  readonly lossStiffness: SparseSymmetric;
  /** kg, of everything: plate, ribs, patches, film. */
  readonly totalMass: number;
}

/** Assembles a panel. */
export function panelSystem(panel: Panel, mesh: ShellMesh): PanelSystem {
  const nodeCount = mesh.nodes.length / 3;
  // all motions: six by node, then for each rib node the turn of the rib's section relative to the plate (edgeBeam.ts)
  const plateMotions = 6 * nodeCount;
  const ribMotion: number[] = [];
  let motions = plateMotions;
  for (const chain of mesh.ribs) {
    ribMotion.push(motions);
    motions += chain.length;
  }
  const rowOf = new Int32Array(motions);
  const nodeOf = new Uint32Array(motions);
  for (let k = 0; k < plateMotions; k++) nodeOf[k] = Math.floor(k / 6);
  mesh.ribs.forEach((chain, r) => {
    nodeOf.set(chain, ribMotion[r]);
  });
  const held = heldMotions(panel, mesh);
  const free: number[] = [];
  // a clamp holds the whole section at the edge: of a rib that runs to it, the end face too
  // where two ribs cross, each keeps the other's section from turning out of square to the plate
  const crossed = crossings(mesh);
  const stuck = (k: number): boolean => {
    if (k < plateMotions) return held[k] === 1;
    return crossed.has(nodeOf[k]) || (panel.edge.kind === "clamped" && held[6 * nodeOf[k] + 3] === 1);
  };
  for (let k = 0; k < motions; k++) rowOf[k] = stuck(k) ? -1 : free.push(k) - 1;
  const rows = free.length;
  const group = Uint32Array.from(free, (k) => nodeOf[k]);

  const triangles = mesh.triangles.length / 3;
  const motionsOf = (nodes: ArrayLike<number>, extra: readonly number[] = []): Int32Array => {
    const list = new Int32Array(6 * nodes.length + extra.length);
    for (let c = 0; c < nodes.length; c++) for (let k = 0; k < 6; k++) list[6 * c + k] = 6 * nodes[c] + k;
    list.set(extra, 6 * nodes.length);
    return list;
  };
  const faces = Array.from({ length: triangles }, (_, e) =>
    motionsOf(mesh.triangles.subarray(3 * e, 3 * e + 3)),
  );
  const ribs = mesh.ribs.map((chain, r) =>
    Array.from({ length: chain.length - 1 }, (_, k) =>
      motionsOf([chain[k], chain[k + 1]], [ribMotion[r] + k, ribMotion[r] + k + 1]),
    ),
  );
  // the springs of an elastic edge lie on triangle edges: they need no pattern of their own
  const rowsOf = (list: Int32Array): Int32Array => {
    const rows = new Int32Array(list.length);
    for (let k = 0; k < list.length; k++) rows[k] = rowOf[list[k]];
    return rows;
  };
  const stiffness = symmetricPattern(rows, [...faces, ...ribs.flat()].map(rowsOf));
  const like = (a: SparseSymmetric): SparseSymmetric => ({ ...a, values: new Float64Array(a.values.length) });
  const mass = like(stiffness);
  const lossStiffness = like(stiffness);
  let totalMass = 0;
  const add = (list: Int32Array, k: Float64Array, loss: Float64Array, m: Float64Array): void => {
    const dofs = rowsOf(list);
    addElements([stiffness, lossStiffness, mass], dofs, [k, loss, m]);
    totalMass += elementMass(list, m);
  };

  const laminates = elementLaminates(panel, mesh);
  const element = emptyTriangle();
  const corners = new Float64Array(9);
  for (let e = 0; e < triangles; e++) {
    const nodes = mesh.triangles.subarray(3 * e, 3 * e + 3);
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * nodes[c] + k];
    shellTriangle(corners, laminates[e], element);
    add(faces[e], element.stiffness, element.loss, element.mass);
  }
  ribElements(panel, mesh, (r, k, e) => add(ribs[r][k], e.stiffness, e.loss, e.mass));
  edgeSprings(panel, mesh, (i, j, k) => addElements([stiffness], rowsOf(motionsOf([i, j])), [k]));

  return {
    panel,
    mesh,
    dof: rowOf.subarray(0, plateMotions),
    group,
    stiffness,
    mass,
    lossStiffness,
    totalMass,
  };
}

/** Nodes at which two ribs pass through each other: inside both their chains. */
function crossings(mesh: ShellMesh): ReadonlySet<number> {
  const once = new Set<number>();
  const twice = new Set<number>();
  for (const chain of mesh.ribs) {
    for (const node of chain.subarray(1, -1)) (once.has(node) ? twice : once).add(node);
  }
  return twice;
}

/** An element's mass: what a unit motion of all its nodes along x meets there; held nodes weigh too. */
function elementMass(list: Int32Array, m: Float64Array): number {
  const size = list.length;
  const plate = size - (size % 6);
  let sum = 0;
  for (let p = 0; p < plate; p += 6) for (let q = 0; q < plate; q += 6) sum += m[size * p + q];
  return sum;
}
