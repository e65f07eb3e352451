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
  /** Couple of the strings about the middle of the bridge, N m, positive toward the nut. */
  readonly bridgeMoment: number;
  /** Rise of the middle of the saddle, m. */
  readonly saddleRise: number;
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
    readonly part: "top" | "back" | "tail" | "shoulder" | "board" | "head";
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

/** Stresses in the glue under the bridge from its tail edge (0) to its neck edge, Pa; peel positive where it is pulled off. */
export interface GlueLineView {
  /** m from the bridge's tail edge along the centreline. */
  readonly station: Float64Array;
  readonly peel: Float64Array;
  readonly shear: Float64Array;
  readonly glue: string;
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
  readonly buckling: number | null;
}

interface TuningLoadView extends Turned {
  readonly name: string;
  /** Lowest string first, as it is said. */
  readonly notes: string;
  readonly totalN: number;
}

interface NeckView {
  /** m: relief found under load with the rod slack, and with it tight; null: no adjustable rod. */
  readonly reliefSlack: number;
  readonly reliefTight: number | null;
  readonly reliefWanted: number;
  /** Rise of the action at fret 12 in the first weeks, m, as a range. */
  readonly firstWeeks: { readonly low: number; readonly high: number } | null;
}
