/**
 * The realised instrument: every value of the document in SI, in the sciences' own types, nothing computed yet beyond
 * conversion and the placing of one part by another (the bridge by the scale and the joining fret).
 *
 * Frames: body frame (origin at the tail on the centreline, x towards the neck, y towards the BASS side, z out of the
 * top). A left-handed document is realised exactly like a right-handed one, so its physics is the same number for
 * number; `body.hand` tells whoever draws or cuts it to mirror the finished plan (y to -y). Plain data throughout: a Build goes through a worker or into a file unchanged.
 */
import type { BoardSpec, BodyPlan, BodySpec, Point, Polygon } from "#engine/geometry";
import type { StringConstruction } from "#engine/strings";
import type { OrthotropicWood } from "#engine/woods";
import type { BuildFilm, BuildPatch, BuildPlate } from "./buildPlate.ts";
import type {
  AssumedValue,
  BridgeGlue,
  BuildFingerboard,
  BuildHead,
  BuildNeckRod,
  BuildNut,
  BuildSetup,
  BuildTuning,
} from "./buildSetup.ts";
import type { Issue } from "./issue.ts";

/** Whence a value comes. */
export type How = "measured" | "catalogue" | "assumed";

/** One value that is not certain: where it stands in the document, its SI value and one standard deviation of it. */
export interface UncertainValue {
  /** Path in the document, "top.wood.stiffnessAlong". */
  readonly path: string;
  /** Path in this Build of the number it became, "top.wood.EL"; null when it enters in several places. */
  readonly buildPath: string | null;
  readonly value: number;
  /** One standard deviation, same unit as the value (SI). */
  readonly spread: number;
  readonly how: How;
}

/** What a wood is said to be. */
export interface NamedSpecies {
  /** Place of the wood in the document, "top.braces[3].wood". */
  readonly path: string;
  /** As the wood table names it; null where the document gives every value of the wood and no species. */
  readonly species: string | null;
}

export interface BuildString {
  /** 1 is the highest. */
  readonly string: number;
  readonly note: string;
  /** Open string, tempered, at the document's tuning reference. */
  readonly frequency: number;
  readonly construction: StringConstruction;
  /** Unit weight typed by the maker; overrides the computed one. */
  readonly givenLinearDensity: number | null;
  /** Breaking force typed by the maker (from the string maker's table), or null. */
  readonly givenBreakingForce: number | null;
  readonly scaleLength: number;
  /** Crown of the saddle, body frame: plan place and height over the top's mid-surface. */
  readonly crown: readonly [x: number, y: number, height: number];
  /** Height of the string over the crown of fret 12. */
  readonly action: number;
  /** Underside of the string over the plane of the fret crowns, at the nut. */
  readonly nutClearance: number;
  /** From the nut line along the string to where it meets its post. */
  readonly behindNut: number;
  /** From the saddle line along the string to where it leaves the bridge's upper face (or meets the tail). */
  readonly behindSaddle: number;
  /** Unit direction in plan from the crown towards the nut. */
  readonly direction: Point;
  /** Nut end of the string, body frame. */
  readonly nut: Point;
}

export interface BuildBridge {
  readonly documentPath: string;
  /** Body frame, anticlockwise. */
  readonly polygon: Polygon;
  readonly thickness: number;
  readonly wood: OrthotropicWood;
  readonly grainAngle: number;
  /**
   * The bridge as it is glued on: its middle and its thinner wings, each with the density at which all of them together
   * weigh what the finished bridge weighs with all it carries.
   */
  readonly patches: readonly BuildPatch[];
  /** Mass of the patches together, kg. */
  readonly mass: number;
  /** Weighed mass of its wood alone; null when it follows from wood and size. */
  readonly givenMass: number | null;
  /** Pins, saddle and so on carried by the bridge beyond its wood. */
  readonly addedMass: number;
  /** Bass and treble end of the saddle line, body frame. */
  readonly saddleLine: readonly [bass: Point, treble: Point];
  readonly anchor: "pins" | "through" | "tie" | "tail";
  /** From the saddle line back to the bridge's rear edge. */
  readonly rearBehind: number;
  /** From the saddle line back to where the strings leave the bridge's upper face. */
  readonly anchorBehind: number;
  readonly glue: BridgeGlue;
  /** Share of the footprint that is glued wood on wood, 0 to 1. */
  readonly glueLand: number;
}

export interface BuildSaddle {
  /** Strings over the top's OUTSIDE face at the saddle. */
  readonly heightBass: number;
  readonly heightTreble: number;
  /** Mean crown over the top's mid-surface. */
  readonly crownHeight: number;
  readonly width: number;
  /** Depth of its slot in the bridge. */
  readonly slotDepth: number;
  /**
   * Height over the top's outside face at which the strings would run from neck pitch, board, frets, action and dome:
   * what the geometry asks for, to be held against what the document says. Bass and treble outer string.
   */
  readonly askedBass: number;
  readonly askedTreble: number;
}

export interface BuildLining {
  readonly width: number;
  readonly height: number;
  readonly wood: OrthotropicWood;
  /** Kerfed linings keep their mass but little of their bending stiffness. */
  readonly kind: "kerfed" | "solid" | "laminated";
}

export interface BuildSides {
  readonly wood: OrthotropicWood;
  readonly thickness: number;
  /** Outside first; one ply for a solid side. */
  readonly plies: readonly { readonly wood: OrthotropicWood; readonly thickness: number }[];
  readonly film: BuildFilm | null;
  readonly topLining: BuildLining;
  readonly backLining: BuildLining;
}

/** A solid part carried by the rim: a block, the neck with its head, a tuner, the end pin. */
export interface RimPart {
  readonly name: string;
  readonly mass: number;
  /** Centre of mass, body frame. */
  readonly centre: readonly [number, number, number];
  /** Edges of the box that stands for it (for its own moments of inertia), along x, y, z. */
  readonly size: readonly [number, number, number];
  /** Volume it takes from the cavity; 0 outside the body. */
  readonly volumeInside: number;
  /** What it is to the structure: a block is solid and joins what it touches; a fitting is a mass on what is nearest. */
  readonly kind: "block" | "neck" | "fitting" | "rod";
}

export interface BuildRod {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
  readonly diameter: number;
  readonly bore: number;
  /** Young's modulus along the rod. */
  readonly stiffness: number;
  readonly density: number;
}

export interface BuildNeck {
  readonly joint: "bolted" | "dovetail" | "mortise" | "heel-built-in" | "hinged" | "adjustable";
  readonly joinFret: number;
  /** Tilt of the neck back from the plane of the top's edge. */
  readonly pitch: number;
  /** Underside of the fingerboard over the top's outside face at the body's edge. */
  readonly boardHeight: number;
  readonly boardThickness: number;
  /** Crown of the frets over the board. */
  readonly fretHeight: number;
  readonly relief: number;
  /** Neck with head, fingerboard and frets, without tuners. */
  readonly mass: number;
  /** Centre of that mass, from the body's edge towards the nut. */
  readonly centreFromBody: number;
  /** Depth with fingerboard at frets 1 and 9. */
  readonly depthAtFirst: number;
  readonly depthAtNinth: number;
  /** Shape of the back in the maker's words; null if not told. */
  readonly profile: string | null;
  /** Width of the board at the nut and at its last fret. */
  readonly widthAtNut: number;
  readonly widthAtEnd: number;
  readonly head: BuildHead;
  /** Rods along the neck under the board. */
  readonly rods: readonly BuildNeckRod[];
  readonly wood: OrthotropicWood;
  readonly boardWood: OrthotropicWood;
  /** True when the board's end stands clear of the top. */
  readonly boardClear: boolean;
}

export interface BuildClimate {
  /** K, fraction 0 to 1. */
  readonly temperature: number;
  readonly relativeHumidity: number;
}

/** A range the maker aims at, SI; either end may be open (null). */
export interface TargetRange {
  readonly low: number | null;
  readonly high: number | null;
}

export interface BuildTargets {
  readonly mainAir: TargetRange | null;
  readonly mainTop: TargetRange | null;
  readonly mainBack: TargetRange | null;
  readonly mass: TargetRange | null;
  readonly bridgeRotation: TargetRange | null;
  /** dB, 95th minus 5th percentile over the board. */
  readonly levelSpreadDb: TargetRange | null;
}

export interface Meant {
  readonly verdict: string;
  readonly reason: string;
}

export interface Build {
  readonly name: string;
  /** `solidVolume` and `sideThickness` are filled in; the hand is the document's. */
  readonly body: BodySpec;
  readonly board: BoardSpec;
  readonly neck: BuildNeck;
  readonly fingerboard: BuildFingerboard;
  readonly nut: BuildNut;
  readonly strings: readonly BuildString[];
  /** Index 0: the set's own notes, those of `strings`. */
  readonly tunings: readonly BuildTuning[];
  readonly setup: BuildSetup;
  readonly tuningReference: number;
  readonly top: BuildPlate;
  readonly back: BuildPlate;
  /** Mean thickness of the wall at the sound hole: the lip's, or the top's where no lip is told. */
  readonly holeWall: number;
  /** Thickness of the lip at its thin ends and where it swells, as far as told. */
  readonly holeLip: { readonly thickness: number; readonly swell: number | null } | null;
  readonly bridge: BuildBridge;
  readonly bridgePlate: BuildPatch | null;
  readonly saddle: BuildSaddle;
  readonly sides: BuildSides;
  readonly rimParts: readonly RimPart[];
  readonly rods: readonly BuildRod[];
  readonly climate: {
    readonly shop: BuildClimate;
    readonly homeDry: BuildClimate;
    readonly homeDamp: BuildClimate;
    readonly hotCar: BuildClimate;
  };
  readonly targets: BuildTargets;
  readonly meant: readonly Meant[];
  /** From the crown to where the strings are plucked; null: as physics has it. */
  readonly pluckPlace: number | null;
  readonly uncertain: readonly UncertainValue[];
  /** What the document leaves open and was taken as is usual. */
  readonly assumed: readonly AssumedValue[];
  /** Of every wood in the document: what tables of strength and shrinkage are asked for. */
  readonly species: readonly NamedSpecies[];
}

/** The build with the plan that geometry made of it (right-handed), and what is worth a look but stops nothing. */
export interface Realised {
  readonly build: Build;
  readonly plan: BodyPlan;
  readonly watch: readonly Issue[];
}
