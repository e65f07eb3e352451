import type { Polygon, Polyline } from "#engine/geometry";
import type { EdgeSupport } from "./panel.ts";
import { rectangleTorsion } from "./ribSection.ts";

/** Side and lining at the rim, seen from the plate's edge. SI. */
export interface RimSide {
  /** Bending stiffness of the side per metre of edge for bending across its depth: E t3 / 12, E across its grain, N m. */
  readonly bendingStiffnessAcross: number;
  /** In-plane shear stiffness of the side, G t, N/m. */
  readonly shearStiffness: number;
  /** Depth of the side between the plates, m. */
  readonly depth: number;
  /** Solid lining of rectangular section (width along the plate, height along the side); kerfs are told by smaller EL, G. */
  readonly lining: {
    readonly width: number;
    readonly height: number;
    readonly EL: number;
    readonly G: number;
  } | null;
  /** Stretches of the edge where the side is scooped and the lining interrupted: free. */
  readonly open: readonly Polyline[];
  /** Where blocks are glued to the plate: it moves there as the rim does. */
  readonly held: readonly Polygon[];
}

/**
 * The elastic edge a side and its lining make (physics: until the sides are modelled themselves).
 *
 * Take one metre of side as a plate strip of depth H and bending stiffness D, its far edge glued to the other plate.
 * Turn its near edge by r with no deflection there. Beam theory gives the moment 4 D r / H if the far edge is clamped
 * and 3 D r / H if it is hinged; the other plate is neither, so
 *   rotation = 3.5 D / H   (within 14 %).
 * Push the near edge along the plate's inward normal, near edge free to turn, far edge held and clamped:
 *   normal = 3 D / H3   (small: what holds a domed plate's thrust is the ring and the curved outline's own hoop).
 * Slide it along the edge: the strip shears, tangential = G t / H.
 * The lining is a ring: EA, EI for bending along the plate's normal, GJ of its rectangle, its centroid half its height
 * inside the plate. Its mass belongs to the rim, which moves as a rigid body, and is not counted here.
 * Left out: the side's curvature across its depth, coupling of push and turn, the other plate's motion.
 */
export function rimEdge(side: RimSide): EdgeSupport {
  const { bendingStiffnessAcross: bending, depth, lining } = side;
  return {
    kind: "elastic",
    rotation: (3.5 * bending) / depth,
    normal: (3 * bending) / depth ** 3,
    tangential: side.shearStiffness / depth,
    ring:
      lining === null
        ? null
        : {
            EA: lining.EL * lining.width * lining.height,
            EI: (lining.EL * lining.width * lining.height ** 3) / 12,
            GJ: lining.G * rectangleTorsion(lining.width, lining.height),
            offset: -lining.height / 2,
            massPerLength: 0,
          },
    open: side.open,
    held: side.held,
  };
}
