import { addElements, type SparseSymmetric, symmetricPattern } from "#engine/numerics";
import { edgeElements, heldMotions } from "./edgeElements.ts";
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
  /** kg, of everything: plate, ribs, patches, film, ring. */
  readonly totalMass: number;
  /** Plate area by node, m2 (true surface). */
  readonly nodeArea: Float64Array;
  /** 6 by node: the volume swept outward per unit of each motion, dome slope included. */
  readonly flow: Float64Array;
  /** 6 x 6 row by row: R' M R of the whole panel about the origin of the plate frame. */
  readonly rigidMass: Float64Array;
  /** rows x 6, motion after motion: M R on the free rows. */
  readonly rigidInertia: Float64Array;
  /** 6: outward volume swept per unit rigid motion. */
  readonly rigidVolume: Float64Array;
}

/**
 * Assembles a panel. The springs of an elastic edge act relative to the rim, so a rigid motion of plate and rim
 * together costs nothing and the matrices are those of the plate with the rim at rest.
 */
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
  // the elements of an elastic edge lie on triangle edges: they need no pattern of their own
  const rowsOf = (list: Int32Array): Int32Array => {
    const rows = new Int32Array(list.length);
    for (let k = 0; k < list.length; k++) rows[k] = rowOf[list[k]];
    return rows;
  };
  const stiffness = symmetricPattern(rows, [...faces, ...ribs.flat()].map(rowsOf));
  const like = (a: SparseSymmetric): SparseSymmetric => ({ ...a, values: new Float64Array(a.values.length) });
  const mass = like(stiffness);
  const lossStiffness = like(stiffness);
  const inertia = new Float64Array(6 * motions);
  const add = (list: Int32Array, k: Float64Array, loss: Float64Array, m: Float64Array): void => {
    const dofs = rowsOf(list);
    addElements([stiffness, lossStiffness, mass], dofs, [k, loss, m]);
    addRigidInertia(inertia, mesh, list, m);
  };

  const nodeArea = new Float64Array(nodeCount);
  const flow = new Float64Array(6 * nodeCount);
  const laminates = elementLaminates(panel, mesh);
  const element = emptyTriangle();
  const corners = new Float64Array(9);
  for (let e = 0; e < triangles; e++) {
    const nodes = mesh.triangles.subarray(3 * e, 3 * e + 3);
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * nodes[c] + k];
    shellTriangle(corners, laminates[e], element);
    add(faces[e], element.stiffness, element.loss, element.mass);
    for (let c = 0; c < 3; c++) {
      nodeArea[nodes[c]] += element.facet[0] / 3;
      for (let k = 0; k < 6; k++) flow[6 * nodes[c] + k] += element.flow[6 * c + k];
    }
  }
  ribElements(panel, mesh, (r, k, e) => add(ribs[r][k], e.stiffness, e.loss, e.mass));
  edgeElements(panel, mesh, (i, j, e) => add(motionsOf([i, j]), e.stiffness, e.loss, e.mass));

  const rigidMass = new Float64Array(36);
  const rigidVolume = new Float64Array(6);
  const motion = new Float64Array(6);
  for (let r = 0; r < 6; r++) {
    for (let node = 0; node < nodeCount; node++) {
      rigidMotion(mesh, node, r, motion);
      for (let k = 0; k < 6; k++) {
        if (motion[k] === 0) continue;
        rigidVolume[r] += flow[6 * node + k] * motion[k];
        for (let c = 0; c < 6; c++) rigidMass[6 * r + c] += motion[k] * inertia[6 * (6 * node + k) + c];
      }
    }
  }
  const rigidInertia = new Float64Array(6 * rows);
  for (let c = 0; c < 6; c++)
    for (let i = 0; i < rows; i++) rigidInertia[c * rows + i] = inertia[6 * free[i] + c];
  return {
    panel,
    mesh,
    dof: rowOf.subarray(0, plateMotions),
    group,
    stiffness,
    mass,
    lossStiffness,
    totalMass: rigidMass[0],
    nodeArea,
    flow,
    rigidMass,
    rigidInertia,
    rigidVolume,
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

/** Writes the six motions of a node under unit rigid motion r (translations x y z, rotations x y z about the origin). */
function rigidMotion(mesh: ShellMesh, node: number, r: number, out: Float64Array): void {
  out.fill(0);
  out[r] = 1;
  if (r < 3) return;
  const a = (r + 1) % 3;
  const b = (r + 2) % 3;
  // u = e_r x position
  out[a] = -mesh.nodes[3 * node + b];
  out[b] = mesh.nodes[3 * node + a];
}

/**
 * Adds the element's M R to the rows of `inertia` (6 by motion): a rigid turn about an axis moves a node at x by e x x,
 * so a row (f, t) of M at that node meets it as f for the translations and as x x f + t for the rotations. A rigid
 * motion turns no rib against the plate.
 */
function addRigidInertia(inertia: Float64Array, mesh: ShellMesh, list: Int32Array, m: Float64Array): void {
  const size = list.length;
  const plate = size - (size % 6);
  const { nodes } = mesh;
  for (let q = 0; q < plate; q += 6) {
    const node = list[q] >> 1; // 3 coordinates against 6 motions by node
    const x = nodes[node];
    const y = nodes[node + 1];
    const z = nodes[node + 2];
    for (let p = 0; p < size; p++) {
      const at = size * p + q;
      const fx = m[at];
      const fy = m[at + 1];
      const fz = m[at + 2];
      const to = 6 * list[p];
      inertia[to] += fx;
      inertia[to + 1] += fy;
      inertia[to + 2] += fz;
      inertia[to + 3] += y * fz - z * fy + m[at + 3];
      inertia[to + 4] += z * fx - x * fz + m[at + 4];
      inertia[to + 5] += x * fy - y * fx + m[at + 5];
    }
  }
}
