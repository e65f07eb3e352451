/** A plate of the realised instrument with what is glued to it; frames and units as in build.ts. */
import type { BraceSection, DomeSpec, Polygon, Polyline } from "#engine/geometry";
import type { OrthotropicWood } from "#engine/woods";

/** One thickness over the whole plate, or caliper spots (x, y, thickness by spot, m) to be blended. */
export type BuildThickness =
  | { readonly kind: "uniform"; readonly thickness: number }
  | { readonly kind: "spots"; readonly spots: Float64Array };

/** Film of finish on the outside of one plate. */
export interface BuildFilm {
  readonly thickness: number;
  readonly density: number;
  /** Young's modulus of the cured film. */
  readonly stiffness: number;
  readonly loss: number;
  readonly massPerArea: number;
}

/** "hub": let into the hub; "butted-to-brace": ends against the flank of another brace. */
export type BraceEnd = "let-in" | "butted" | "stopped" | "hub" | "butted-to-brace";

/** One piece of a brace as it lies on the plate: clipped to the edge, its height profile sampled. */
export interface BuildBrace {
  readonly name: string;
  /** Path in the document, for messages: "top.braces[3]". */
  readonly documentPath: string;
  /** The two ends of the centre line, x0,y0,x1,y1, body frame. */
  readonly path: Polyline;
  /** Width of the glue face. */
  readonly width: number;
  /** [s, h]: fraction of the plan length from the first end, full height over the plate's inside face; linear between. */
  readonly heights: readonly (readonly [number, number])[];
  /** Shape of the section; geometry's equivalentRectangle turns width and heights into the beam's. */
  readonly section: BraceSection;
  readonly wood: OrthotropicWood;
  readonly ends: readonly [start: BraceEnd, end: BraceEnd];
}

/** A piece of wood glued to a plate. */
export interface BuildPatch {
  readonly name: string;
  readonly documentPath: string;
  readonly polygon: Polygon;
  readonly thickness: number;
  readonly wood: OrthotropicWood;
  readonly grainAngle: number;
  readonly side: "outside" | "inside";
}

/** How two braces share the place where they cross. */
export interface BuildCrossing {
  readonly braces: readonly [string, string];
  /** "lapped": each notched to half; "capped": lapped with a strip over it; "through": both in full section. */
  readonly joint: "lapped" | "capped" | "through";
}

export interface BuildPlate {
  readonly wood: OrthotropicWood;
  readonly thickness: BuildThickness;
  /** The uniform thickness, or the mean of the caliper spots. */
  readonly meanThickness: number;
  /** From +x, anticlockwise seen from the front. */
  readonly grainAngle: number;
  readonly dome: DomeSpec | null;
  readonly film: BuildFilm | null;
  readonly braces: readonly BuildBrace[];
  readonly crossings: readonly BuildCrossing[];
  /** Hub patch, graft strip and the like (inside); bridge and bridge plate stand apart. */
  readonly patches: readonly BuildPatch[];
}
