import type { Polyline } from "#engine/geometry";
import type { EdgeSupport } from "./panel.ts";

/** Side and lining at the rim, seen from the plate's edge. SI. */
export interface RimSide {
  /** Bending stiffness of the side per metre of edge, for bending across its depth, N m (E t^3 / 12). */ readonly bendingStiffnessAcross: number;
  /** Depth of the side between the plates, m. */ readonly depth: number;
  /** In-plane shear stiffness of the side per metre of edge (G t), N/m. */ readonly shearStiffness: number;
  readonly lining: {
    readonly width: number;
    readonly height: number;
    readonly EL: number;
    readonly G: number;
    readonly density: number;
  } | null;
  readonly open: readonly Polyline[];
}
export declare function rimEdge(side: RimSide): EdgeSupport;
