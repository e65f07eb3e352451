import type { SparseSymmetric } from "#engine/numerics";
import type { Panel } from "./panel.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Matrices of a panel with its edge held. Node motions run ux, uy, uz, rx, ry, rz in the plate frame. */
export interface PanelSystem {
  readonly panel: Panel;
  readonly mesh: ShellMesh;
  /** 6 by node: its row in the matrices, or -1 where the edge holds it. */ readonly dof: Int32Array;
  /** Node of each row, for the ordering. */ readonly group: Uint32Array;
  readonly stiffness: SparseSymmetric;
  readonly mass: SparseSymmetric;
  /** Imaginary part of the complex stiffness: phi' lossStiffness phi / phi' stiffness phi is the loss factor. */
  readonly lossStiffness: SparseSymmetric;
  /** kg, of everything: plate, ribs, patches, film, ring. */ readonly totalMass: number;
  /** Projected plate area by node, m2 (true surface). */ readonly nodeArea: Float64Array;
  /** 6 by node: the volume swept outward per unit of each motion, dome slope included. */ readonly flow: Float64Array;
  /** 6 x 6 row by row: R' M R of the whole panel about the origin. */ readonly rigidMass: Float64Array;
  /** rows x 6 (motion after motion): M R restricted to the free rows. */ readonly rigidInertia: Float64Array;
  /** 6: outward volume swept per unit rigid motion. */ readonly rigidVolume: Float64Array;
}

export declare function panelSystem(panel: Panel, mesh: ShellMesh): PanelSystem;
