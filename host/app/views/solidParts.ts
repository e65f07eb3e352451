import type { Carriers } from "./carriers.ts";

export type PartKind = "top" | "back" | "sides" | "bridge" | "top brace" | "back brace" | "neck" | "board";

/** A part of the guitar in space: m, body frame as the hand has it. Surfaces by triangles, ink by pairs of vertices. */
export interface SolidPart {
  readonly kind: PartKind;
  /** x, y, z by vertex. */
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
  readonly lines: Uint32Array;
  /** What makes it move: along +z with the top's motion, along -z with the back's. null: it is drawn at rest. */
  readonly top: Carriers | null;
  readonly back: Carriers | null;
}

/** The two mid-surfaces over the plan, and the sketch turned to the instrument's hand. */
export interface BoxHeights {
  readonly top: (x: number, y: number) => number;
  readonly back: (x: number, y: number) => number;
  /** 1, or -1 where the sketch, always right-handed, is mirrored. */
  readonly turn: 1 | -1;
  readonly topThickness: number;
  readonly backThickness: number;
}
