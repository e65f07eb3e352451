import type { Polygon } from "#engine/geometry";

/** What the line between bridge and top is made of. */
export interface GlueLineSpec {
  /** The bridge's footprint. */
  readonly polygon: Polygon;
  /** Patches of the top that are the bridge, places in its panel. */
  readonly patches: readonly number[];
  /** Share of the footprint that is glued. */
  readonly land: number;
  /** Glue film: thickness, Young's and shear modulus. */
  readonly film: { readonly thickness: number; readonly E: number; readonly G: number };
  /** Young's modulus through the thickness of the top and of the bridge, Pa. */
  readonly through: { readonly top: number; readonly bridge: number };
}

/** A value known within a range only. */
export interface RangedStress {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly x: number;
  readonly y: number;
}
