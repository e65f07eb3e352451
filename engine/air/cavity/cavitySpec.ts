/** What the air inside the box is made of: plain data, body frame, SI. */
import { type DomeSpec, domeHeight, type Polygon } from "#engine/geometry";
import type { AirProperties } from "../airProperties.ts";

/** An inner face as a height over the plan: z = at + perX x + domeHeight (top) or - domeHeight (back), m. */
export interface InnerFace {
  readonly at: number;
  /** m per m along x. */
  readonly perX: number;
  readonly dome: DomeSpec | null;
}

/** Thickness of the wall round the hole: one value, or values (m) at points of the rim, the nearest of which counts. */
export type RimThickness = number | { readonly points: Polygon; readonly thickness: Float64Array };

export interface HoleOpening {
  /** The whole hole in plan; it may touch or cross the outline of the cavity, where the side is then open. */
  readonly polygon: Polygon;
  readonly wall: RimThickness;
  /** Where the hole crosses the outline: how far the side is cut away below the top's inner face, and the side's thickness, m. */
  readonly scoop: { readonly height: number; readonly wall: number };
}

export interface CavitySpec {
  /** Inner face of the sides in plan, m. */
  readonly outline: Polygon;
  readonly top: InnerFace;
  readonly back: InnerFace;
  /** null: a closed box. */
  readonly hole: HoleOpening | null;
  /** m3 taken by braces, linings and blocks: lowers the compliance. */
  readonly solidVolume: number;
  /** m2 of wall that exchanges heat and rubs on the air, braces included; null: the mesh's own walls. */
  readonly wallArea: number | null;
  /** m3/(s Pa) through seams, handed on to the response. */
  readonly leak: number;
  readonly air: AirProperties;
  /** Hz: all modes of the closed cavity up to here are listed. */
  readonly toFrequency: number;
  /** m: edge length of the (quadratic) wedges in plan. */
  readonly size: number;
  /** Layers of (quadratic) wedges between back and top. */
  readonly layers: number;
}

/** Height of the top's inner face at (x, y), m. */
export function topHeight(face: InnerFace, x: number, y: number): number {
  return face.at + face.perX * x + domeHeight(face.dome, x, y);
}

/** Height of the back's inner face at (x, y), m. */
export function backHeight(face: InnerFace, x: number, y: number): number {
  return face.at + face.perX * x - domeHeight(face.dome, x, y);
}
