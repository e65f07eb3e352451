/** Stresses as plain data, small enough to send. Pa; tension above zero; places in the body frame's plan (x, y). */

export interface PlacedStress {
  readonly value: number;
  readonly x: number;
  readonly y: number;
}

/** Greatest stresses of one sheet of wood in its own grain axes, over both its faces and all its places. */
export interface SheetStress {
  readonly part: "top" | "back" | "sides";
  /** "plate", the name of a glued-on patch ("patch 2" without one), "ply 1" of the sides, "lining". */
  readonly sheet: string;
  /** Greatest tension and greatest compression (most negative; 0 where there is none). */
  readonly along: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  readonly across: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  /** In the plane (LR), greatest size. */
  readonly shear: PlacedStress;
  /**
   * Through the thickness, greatest size: 3/2 Q / (height of the whole stack). `along`: on planes along the grain (LT);
   * `rolling`: across the fibres (RT).
   */
  readonly through: { readonly along: PlacedStress; readonly rolling: PlacedStress };
}

/** What a brace's end leaves on its glue. */
export interface RibEndStress {
  readonly x: number;
  readonly y: number;
  /** Length of glue it is shared over: about the brace's height there. */
  readonly over: number;
  /** Mean shear of the glue over that length, Pa. */
  readonly shear: number;
  /** Moment about the glue of what the brace hands over there, N m: positive where it opens the very end. */
  readonly peelMoment: number;
  /** Normal stress of the glue at the very end if it runs straight over that length, Pa: positive opens. */
  readonly peel: number;
}

export interface RibStress {
  readonly plate: "top" | "back";
  /** The rib's name, or "rib 3" (from 1, as meshed). */
  readonly rib: string;
  /** Along the grain at the face that is glued and at the free face (of the brace as cut), Pa. */
  readonly glued: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  readonly free: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  /** Shear in the wood, 3/2 V / A, Pa. */
  readonly shear: PlacedStress;
  /** Shear in the glue line between brace and plate, (dN/ds) / width = V Q / I b: mean size along the brace, greatest size. */
  readonly glue: { readonly mean: number; readonly peak: PlacedStress };
  readonly ends: readonly [start: RibEndStress, end: RibEndStress];
}

export interface RodStress {
  readonly rod: string;
  /** N, tension above zero. */
  readonly force: number;
  /** Pa */
  readonly stress: number;
}

export interface BodyStress {
  readonly sheets: readonly SheetStress[];
  readonly ribs: readonly RibStress[];
  readonly rods: readonly RodStress[];
}
