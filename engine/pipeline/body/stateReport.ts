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
import type { CoupledBody } from "./coupledBody.ts";
import type { StageCrew } from "./jobs.ts";
import { bodyInState } from "./wholeBody.ts";

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
    /** Shares of the kinetic energy; null for what is not there yet. */
    readonly kineticShare: {
      readonly top: number;
      readonly back: number | null;
      readonly sidesAndBlocks: number | null;
      readonly neck: number | null;
      readonly air: number | null;
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
  const rim = reached(state, "top on the rim");
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
        top: rim ? share[5 * i]! : 1,
        back: box ? share[5 * i + 1]! : null,
        sidesAndBlocks: rim ? share[5 * i + 2]! : null,
        neck: reached(state, "necked") ? share[5 * i + 3]! : null,
        air: box ? share[5 * i + 4]! : null,
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
