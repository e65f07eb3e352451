import type { ClimateCase, CreepAhead, MarginRow, Verdict } from "#engine/verdicts";
import type { BoardView, LoadView, PlanView, PlateMesh, Stamp } from "./voiceView.ts";

/**
 * Everything the load report draws, as plain data: SI, body frame, a left-handed plan already mirrored (VoiceView says
 * the same). What is null or empty was not computed, and the page leaves it out.
 */
export interface LoadSheetView {
  readonly title: string;
  /** What the sheet says under the title: tuning, scales. One short line. */
  readonly subtitle: string;
  readonly hand: "right" | "left";
  readonly plan: PlanView;
  readonly board: BoardView;
  readonly load: LoadView;
  /** Turns of the neck block, rad: tilt positive where its top end moves to the nut, twist about the centreline. */
  readonly neckBlock: { readonly tilt: number; readonly twist: number };
  /** Times this load at which the linear body buckles; null: none found. */
  readonly buckling: { readonly factor: number | null; readonly knockDown: number };
  readonly deflection: DeflectionView;
  readonly section: SectionView | null;
  readonly stresses: readonly StressMapView[];
  readonly glueLine: GlueLineView | null;
  /** Least margin first. */
  readonly margins: readonly MarginRow[];
  /** The design first, then what was changed about it. */
  readonly variants: readonly VariantView[];
  readonly tunings: readonly TuningLoadView[];
  readonly climates: readonly ClimateCase[];
  /** What years under load make of the bridge's rotation. */
  readonly creep: readonly CreepAhead[];
  readonly neck: NeckView | null;
  readonly verdicts: readonly Verdict[];
  /** What the model does not promise, one sentence each. */
  readonly limits: readonly string[];
  /** Where the work can hurt someone, one or two sentences each. */
  readonly cautions: readonly string[];
  readonly stamp: Stamp;
}

/** What the load does to the top: rise of each node of its plan mesh, m, positive outward. */
interface DeflectionView {
  readonly mesh: PlateMesh;
  readonly rise: Float64Array;
}

/** The guitar cut along its centreline: chains at rest, and where the load takes each point of them. */
export interface SectionView {
  readonly lines: readonly {
    readonly part: "top" | "back" | "tail" | "shoulder" | "board" | "head" | "bridge";
    /** x0, z0, x1, z1, ... m. */
    readonly rest: Float64Array;
    /** Shift of each point, dx0, dz0, ... m. */
    readonly shift: Float64Array;
  }[];
  /** String line from crown to nut in the middle, x, z of both ends at rest and their shifts; null: not drawn. */
  readonly string: { readonly rest: Float64Array; readonly shift: Float64Array } | null;
}

/** Stresses all over a plate's own wood, in its grain axes. */
export interface StressMapView {
  readonly plate: "top" | "back";
  readonly mesh: PlateMesh;
  /** Pa, tension positive, 6 by node: along, across, shear at the inside face, then at the outside face. */
  readonly stress: Float64Array;
  /** Of the grain in the drawn plan, rad from +x, anticlockwise. */
  readonly grainAngle: number;
}

/** Stresses between bridge and top, Pa; peel above zero opens. */
export interface GlueLineView {
  readonly glue: string;
  /** Glued area, m2. */
  readonly area: number;
  /** N along the top, and N m turning the bridge toward the nut, at the middle of the glue. */
  readonly pull: number;
  readonly couple: number;
  readonly meanShear: number;
  readonly edgeShear: StressRange;
  /** N for each metre of the rear edge. */
  readonly peelPerLength: number;
  readonly meanPeel: number;
  readonly edgePeel: StressRange;
}

interface StressRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

interface Turned {
  /** rad, positive toward the nut. */
  readonly bridgeRotation: number;
  /** rad. */
  readonly blockTilt: number;
  readonly blockTwist: number;
  /** Change of the action over fret 12 by string, string 1 first, m. */
  readonly actionChange: readonly number[];
}

/** The same guitar with one thing changed, under the same strings. */
interface VariantView extends Turned {
  readonly name: string;
}

interface TuningLoadView extends Turned {
  readonly name: string;
  /** Lowest string first, as it is said. */
  readonly notes: string;
  readonly totalN: number;
}

/** The neck under its strings, m and N. */
interface NeckView {
  readonly reliefWanted: number;
  readonly reliefSlack: number;
  /** With the rod at the force that the document states, if it states one. */
  readonly reliefStated: number | null;
  readonly statedForce: number | null;
  /** Force that gives the relief wanted; null without a rod or out of its reach. */
  readonly wantedForce: number | null;
  /** Rise of the action over fret 12 after the set-up */
  readonly firstWeeks: {
    readonly weeks: number;
    readonly low: number;
    readonly likely: number;
    readonly high: number;
    /** False: the neck's bend alone. */
    readonly withBody: boolean;
    readonly customary: { readonly low: number; readonly high: number };
  };
}
