import {
  type CavityModes,
  type CavitySpec,
  cavityModes,
  type ExteriorField,
  type ExteriorOperators,
  type ExteriorOptions,
  type ExteriorSpec,
  exteriorAnswer,
  exteriorOperators,
  exteriorSurface,
} from "#engine/air";
import { type Context, done, failed, type Outcome } from "#engine/numerics";
import {
  type BodyMesh,
  type BodyPiece,
  type BodyShellSpec,
  type BodySystem,
  bodyAnalysis,
  joinedSystem,
  type ModesTask,
  modeSlice,
  modesTask,
  type PointRef,
  plateMesh,
  platePiece,
  pointRows,
  type SeatedPlate,
} from "#engine/shells";
import type { Knowledge } from "#engine/verdicts";
import type { Crew } from "../crew.ts";
import { type LiveInput, prepareLive } from "../live/prepareLive.ts";
import { bodyFigures, bodyLoad } from "../load/bodyLoad.ts";
import { type VoiceRanges, voiceRanges } from "../ranges/voiceRanges.ts";
import { voiceSamples } from "../ranges/voiceSamples.ts";
import { refusedPart } from "./refusedPart.ts";
import { type LoadInput, type StringLoad, strungSystem } from "./stringLoad.ts";

/** One plate of the body, meshed in its seat and assembled. */
export interface MadePlate {
  readonly seated: SeatedPlate;
  readonly piece: BodyPiece;
}

export interface PlateInput {
  readonly spec: BodyShellSpec;
  readonly which: "top" | "back";
  /** Edge length wanted, m. */
  readonly size: number;
}

/** The body as far as it is made, for whoever joins it. */
export interface BodyInput {
  readonly spec: BodyShellSpec;
  readonly mesh: BodyMesh;
  readonly plates: readonly BodyPiece[];
}

export interface JoinInput extends BodyInput {
  readonly points: readonly PointRef[];
  /** Strings at pitch: the body is that under their load. null: not strung. */
  readonly load: LoadInput | null;
}

/** The body's matrices, and what every share of its modes needs of them. */
export interface JoinedBody {
  readonly system: BodySystem;
  readonly task: ModesTask;
  /** The answer to the string load that is in the stiffness. */
  readonly load: StringLoad | null;
}

export interface OutsideInput {
  readonly spec: ExteriorSpec;
  /** How many panels are wanted. */
  readonly panels: number;
  readonly options: ExteriorOptions;
}

export interface SoundInput {
  readonly operators: ExteriorOperators;
  /** P x panels, normal velocity out of the body. */
  readonly patterns: Float64Array;
}

/** The stages that may run in a worker: plain data in, plain data out. */
export const stageJobs = {
  plate: (input: PlateInput, ctx: Context): Outcome<MadePlate | null> => {
    if (ctx.cancelled()) return failed("cancelled", `before the ${input.which} was meshed`);
    const seated = plateMesh(input.spec, input.which, input.size);
    if (!seated.ok) return seated;
    if (seated.value === null) return done(null);
    const piece = platePiece(input.spec, input.which, seated.value);
    return done({ seated: seated.value, piece }, seated.warnings);
  },
  join: ({ spec, mesh, plates, points, load }: JoinInput, ctx: Context): Outcome<JoinedBody> => {
    const joined = joinedSystem(spec, mesh, plates);
    if (!joined.ok) return joined;
    const rows = pointRows(joined.value, points);
    if (!rows.ok) return rows;
    const analysis = bodyAnalysis(joined.value);
    ctx.progress(0.5);
    const strung = load === null ? done(null) : strungSystem(joined.value, load, ctx, analysis);
    if (!strung.ok) return refusedPart(strung, joined.value, false);
    const system = strung.value?.system ?? joined.value;
    const task = modesTask(system, analysis, rows.value);
    return done({ system, task, load: strung.value?.load ?? null });
  },
  modes: modeSlice,
  load: bodyLoad,
  figures: bodyFigures,
  cavity: (spec: CavitySpec, ctx: Context): Outcome<CavityModes> => cavityModes(spec, ctx),
  outside: ({ spec, panels, options }: OutsideInput, ctx: Context): Outcome<ExteriorOperators> => {
    const surface = exteriorSurface(spec, panels);
    if (!surface.ok) return surface;
    const operators = exteriorOperators(surface.value, options, ctx);
    return operators.ok ? done(operators.value, [...surface.warnings, ...operators.warnings]) : operators;
  },
  sound: ({ operators, patterns }: SoundInput, ctx: Context): Outcome<ExteriorField> =>
    exteriorAnswer(operators, patterns, ctx),
  ranges: (input: LiveInput & { readonly knowledge: Knowledge }, ctx: Context): Outcome<VoiceRanges> => {
    const part = (from: number, to: number): Context => ({
      ...ctx,
      progress: (f) => ctx.progress(from + (to - from) * f),
    });
    const live = prepareLive(input, part(0, 0.7));
    if (!live.ok) return live;
    const samples = voiceSamples(live.value, input.build.uncertain, input.knowledge, part(0.7, 1));
    return samples.ok ? done(voiceRanges(samples.value), samples.warnings) : samples;
  },
};

export type StageCrew = Crew<typeof stageJobs>;
