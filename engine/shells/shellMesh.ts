import type { PlanMesh } from "#engine/meshing";
import type { Outcome } from "#engine/numerics";
import type { Panel } from "./panel.ts";

/** The plate's mid-surface as flat triangles lifted from the plan mesh to the dome. */
export interface ShellMesh {
  readonly plan: PlanMesh;
  /** x, y, z by node, m. */ readonly nodes: Float64Array;
  /** 3 nodes by triangle, anticlockwise seen from outside. */ readonly triangles: Uint32Array;
  /** Closed node loops: the outer edge first, then the holes. */ readonly boundary: readonly Uint32Array[];
  /** Node chain of each rib, in its direction, in the order of `panel.ribs`. */ readonly ribs: readonly Uint32Array[];
}

export declare function panelMesh(panel: Panel, size: number): Outcome<ShellMesh>;
