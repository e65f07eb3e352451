import type { Build } from "#engine/instrument";
import { done, type Outcome, type Warning } from "#engine/numerics";
import { frequencySigma, honestAccuracy, type Knowledge } from "#engine/verdicts";
import type { InstrumentGeometry } from "../geometry.ts";
import { type Stages, unwatched } from "../stages.ts";
import { type Stamp, stamp } from "../stamp.ts";
import type { SetString } from "../stringSet.ts";
import { type BuildState, reached } from "../structure/buildState.ts";
import { knowledgeOf } from "../voiceVerdicts.ts";
import type { BodySettings } from "./bodySettings.ts";
import type { StageCrew } from "./jobs.ts";
import { bodyInState, type CoupledBody } from "./wholeBody.ts";

/** The JSON contract of `body`: what hangs together in one build state, and how it rings when it is held by nothing. */
export interface StateReport {
  readonly state: BuildState;
  readonly massKg: number;
  readonly bodyModes: readonly {
    readonly frequencyHz: number;
    /** One sigma against a real guitar, engineering judgement (docs/limits.md). */
    readonly frequencySigmaHz: number;
    readonly q: number;
    /** At the place of the saddle. */
    readonly effectiveMassKg: number | null;
    readonly name: string | null;
    /** Shares of the kinetic energy. */
    readonly kineticShare: {
      readonly top: number;
      readonly back: number;
      readonly sidesAndBlocks: number;
      readonly neck: number;
      readonly air: number;
    };
  }[];
  /** Every Q is known within this factor, either way. */
  readonly qFactor: number;
  readonly knowledge: Knowledge;
  readonly modesToHz: number;
  readonly counts: CoupledBody["counts"];
  readonly validity: string;
  readonly warnings: readonly Warning[];
  readonly stamp: Stamp;
}

/** Modes of the body in one build state. Fails as the stages do. */
export async function stateReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  state: BuildState,
  settings: BodySettings,
  crew: StageCrew,
  stages: Stages = unwatched,
): Promise<Outcome<StateReport>> {
  const body = await bodyInState(build, geometry, strings, state, settings, crew, stages);
  if (!body.ok) return body;
  const { response, modes, counts } = body.value;
  const box = reached(state, "closed box");
  const share = response.partShare;
  const knowledge = knowledgeOf(build);
  return done({
    state,
    massKg: modes.totalMass,
    bodyModes: Array.from(response.frequency, (frequencyHz, i) => ({
      frequencyHz,
      frequencySigmaHz: frequencyHz * frequencySigma(box ? response.name[i]! : null, knowledge),
      q: response.q[i]!,
      effectiveMassKg: response.effectiveMass[i]!,
      // an open plate has no main modes: they are what top, back and air make together
      name: box ? response.name[i]! : null,
      kineticShare: {
        top: share[5 * i]!,
        back: share[5 * i + 1]!,
        sidesAndBlocks: share[5 * i + 2]!,
        neck: share[5 * i + 3]!,
        air: share[5 * i + 4]!,
      },
    })),
    qFactor: honestAccuracy(knowledge).qFactor,
    knowledge,
    modesToHz: response.modesToHz,
    counts,
    validity: box
      ? "held by nothing, with the air inside and outside; one value of loss by wood and direction"
      : "held by nothing, in vacuo: the air round an open plate lowers its modes by 2 to 5 % (common practice, no source)",
    warnings: body.warnings,
    stamp: stamp("body", build, { state, ...settings }),
  });
}
