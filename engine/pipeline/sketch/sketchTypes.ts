/**
 * The instrument as a drawing of it is made and worked on: plan, sections and side. Plain data, SI, body frame; ALWAYS laid out
 * right-handed, as the document is: `hand` "left" tells whoever draws to mirror y, whoever edits that nothing is to be mirrored.
 */
import type {
  BoardLayout,
  BraceSection,
  CutawayReport,
  CutawaySpec,
  DomeSpec,
  FairnessReport,
  HeightProfile,
  HoleSpec,
  OutlineSpec,
  PlateRegion,
  Point,
  Polygon,
  Polyline,
} from "#engine/geometry";
import type { BraceEnd, BuildThickness } from "#engine/instrument";

export interface InstrumentSketch {
  readonly name: string;
  readonly hand: "right" | "left";
  /** Tail to neck end along the centreline. */
  readonly length: number;
  /** What the maker states of the curves: what is worked on. */
  readonly shape: {
    readonly outline: OutlineSpec;
    readonly cutaway: CutawaySpec | null;
    readonly hole: HoleSpec;
  };
  /** Edge of the body as cut, anticlockwise from the tail; and before the cutaway (the same record without one). */
  readonly outline: Polygon;
  readonly fullOutline: Polygon;
  readonly cutaway: SketchCutaway | null;
  readonly hole: SketchHole;
  /** Stretches of the body's edge that lie in the hole. */
  readonly openEdge: readonly Polyline[];
  readonly top: SketchPlate;
  readonly back: SketchPlate;
  readonly bridge: SketchBridge;
  readonly bridgePlate: SketchPatch | null;
  readonly sides: SketchSides;
  readonly blocks: readonly SketchBlock[];
  readonly rods: readonly SketchRod[];
  /** Slots, strings, edges of the board, in the body frame. */
  readonly board: BoardLayout;
  readonly neck: SketchNeck;
  readonly strings: readonly SketchString[];
  readonly fairness: { readonly outline: FairnessReport; readonly hole: FairnessReport };
  readonly areas: {
    readonly plan: number;
    /** As cut, flat. */
    readonly top: number;
    readonly hole: number;
  };
  readonly grossVolume: number;
  readonly netVolume: number;
}

export interface SketchCutaway extends Pick<CutawayReport, "side" | "places"> {
  readonly edge: Polyline;
}

export interface SketchHole {
  /** The whole closed curve, anticlockwise, and the part of it inside the body. */
  readonly edge: Polygon;
  readonly inside: Polygon;
  readonly meetsEdge: boolean;
  readonly lip: { readonly thickness: number; readonly swell: number | null } | null;
}

export interface SketchPlate {
  readonly thickness: BuildThickness;
  readonly meanThickness: number;
  readonly grainAngle: number;
  readonly dome: DomeSpec | null;
  /** Height of the plate's mid-surface over the plane of its edge: `domeHeight` less this (the dome's mean along the edge). */
  readonly edgeHeight: number;
  readonly region: PlateRegion;
  readonly braces: readonly SketchBrace[];
  readonly patches: readonly SketchPatch[];
  /** Where the braces of a hub meet, and which they are; null without a hub. */
  readonly hub: { readonly centre: Point; readonly braces: readonly string[] } | null;
}

export interface SketchBrace {
  /** "top.braces[3]". */
  readonly path: string;
  readonly name: string;
  readonly plate: "top" | "back";
  /** Ends as the document states them, before the plate's edge cuts them. */
  readonly from: Point;
  readonly to: Point;
  /** How far it stops short of an edge that cuts it. */
  readonly inset: number;
  readonly width: number;
  readonly height: number;
  readonly section: BraceSection;
  readonly profile: HeightProfile;
  readonly ends: readonly [start: BraceEnd, end: BraceEnd];
  /** Where, in m along the stated line from `from`, what lies on the plate begins and ends. */
  readonly onPlate: readonly [start: number, end: number];
  /** From where it begins on the plate, height over the plate's inside face: s0, h0, s1, h1, ...; straight between. */
  readonly heights: Float64Array;
  /** What lies on the plate: one piece, or more where a hole parts it. */
  readonly pieces: readonly SketchBracePiece[];
}

export interface SketchBracePiece {
  /** The two ends of the centre line, x0, y0, x1, y1. */
  readonly path: Polyline;
  /** Along `heights`. */
  readonly start: number;
  readonly end: number;
}

export interface SketchPatch {
  readonly path: string;
  readonly name: string;
  readonly polygon: Polygon;
  readonly thickness: number;
}

export interface SketchBridge {
  readonly polygon: Polygon;
  /** Its middle, and its thinner wings. */
  readonly parts: readonly { readonly polygon: Polygon; readonly thickness: number }[];
  readonly thickness: number;
  /** Bass and treble end of the saddle line. */
  readonly saddle: readonly [bass: Point, treble: Point];
  readonly saddleWidth: number;
  /** Crown of the saddle over the top's mid-surface, mean of the strings. */
  readonly crownHeight: number;
}

export interface SketchSides {
  readonly thickness: number;
  /** Between the inner faces on the centreline, as the document says. */
  readonly depthAtTail: number;
  readonly depthAtNeck: number;
  /** Between the inner faces where both plates lie at their edge's plane: straight from x = 0 to x = length. */
  readonly rim: { readonly depthAtTail: number; readonly depthAtNeck: number };
  /** Inner face of the side. */
  readonly inside: Polygon;
  readonly topLining: SketchLining;
  readonly backLining: SketchLining;
}

export interface SketchLining {
  readonly width: number;
  readonly height: number;
  /** Inner edge in plan. */
  readonly edge: Polygon;
}

/** A box: its centre and its edges along x, y, z. */
export interface SketchBlock {
  /** "blocks.neck", "blocks.others[0]". */
  readonly path: string;
  readonly name: string;
  readonly centre: readonly [x: number, y: number, z: number];
  readonly size: readonly [x: number, y: number, z: number];
}

export interface SketchRod {
  readonly path: string;
  readonly name: string;
  readonly from: readonly [x: number, y: number, z: number];
  readonly to: readonly [x: number, y: number, z: number];
  readonly diameter: number;
}

/** The neck from the side. */
export interface SketchNeck {
  readonly joinFret: number;
  /** Tilt back from the plane of the top's edge. */
  readonly pitch: number;
  /** Upper surface of the board on the centreline: at the body's edge, and at the nut (x, z). */
  readonly boardFrom: Point;
  readonly boardTo: Point;
  /** x of the board's end over the body. */
  readonly boardEnd: number;
  readonly boardThickness: number;
  readonly fretHeight: number;
  /** Depth with the board at frets 1 and 9, and x of those frets on the centreline. */
  readonly depths: readonly { readonly x: number; readonly depth: number }[];
  readonly head: { readonly angle: number; readonly length: number; readonly thickness: number };
  /** True when the board's end stands clear of the top. */
  readonly boardClear: boolean;
}

export interface SketchString {
  readonly string: number;
  readonly note: string;
  /** Crown of the saddle and end at the nut, body frame with heights over the plane of the top's edge. */
  readonly crown: readonly [x: number, y: number, z: number];
  readonly nut: readonly [x: number, y: number, z: number];
}
