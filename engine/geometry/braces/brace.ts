/** What a brace is: a straight bar on a plate, its section and how its height runs from end to end. */
import type { Point } from "../polygon.ts";

/**
 * Shape of the section over the glue face of width b and height h: vertical walls up to `wall` h, then a gable
 * (triangular) or an arch (parabolic) to the full height. `wall` from 0 to 1; 0 means no walls.
 */
export type BraceSection =
  | { readonly kind: "rectangular" }
  | { readonly kind: "triangular"; readonly wall: number }
  | { readonly kind: "parabolic"; readonly wall: number };

/** Height along the brace, s in m from its start; `height` is the brace's full height. */
export type HeightProfile =
  | { readonly kind: "uniform" }
  /** Straight between the given [s, height] points, level beyond them. */
  | { readonly kind: "points"; readonly heights: readonly (readonly [s: number, height: number])[] }
  /** Each end runs down to its tip height over its tip length, on a quarter wave (scooped). */
  | {
      readonly kind: "tapered";
      readonly tipHeight: readonly [start: number, end: number];
      readonly tipLength: readonly [start: number, end: number];
    }
  /** A tapered brace with one valley between peaks of full height on either side of it. */
  | {
      readonly kind: "scalloped";
      readonly tipHeight: readonly [start: number, end: number];
      readonly tipLength: readonly [start: number, end: number];
      readonly valleyAt: number;
      readonly valleyHeight: number;
      readonly valleyLength: number;
    };

/** A straight brace in plan: its ends before clipping, how far each end stops short of the plate's edge, m. */
export interface BracePath {
  readonly from: Point;
  readonly to: Point;
  /** Stops this far short of the plate's edge, measured along the brace, at either end that the edge clips, m. */
  readonly inset: number;
}

/** A brace as the maker states it; profile distances run along the clipped brace from its start. */
export interface Brace extends BracePath {
  readonly width: number;
  readonly height: number;
  readonly section: BraceSection;
  readonly profile: HeightProfile;
}
