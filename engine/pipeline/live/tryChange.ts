import { type Context, done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { StageCrew } from "../body/jobs.ts";
import { type Stages, unwatched } from "../stages.ts";
import { computeVoice, type Voice } from "../voice.ts";
import { changedBuild } from "./changedBuild.ts";
import { liveEdit } from "./liveEdit.ts";
import type { LiveChange, LiveResult } from "./liveModel.ts";
import type { LiveParameter } from "./liveParameters.ts";
import { prepareLive } from "./prepareLive.ts";

/** What a change does to a voice: the reduced model's answer, and the full one where that asked for it. */
export interface Trial {
  readonly change: LiveChange;
  readonly live: LiveResult;
  /** null: the reduced model's own estimate of its error is small enough. */
  readonly full: Voice | null;
}

/**
 * Tries a change of a computed voice: on the reduced model first, made for these parameters alone; and by a full solve of the
 * changed instrument if the answer asks for one. Fails as both do, and with 'no-such-value'.
 */
export async function tryChange(
  voice: Voice,
  parameters: readonly LiveParameter[],
  change: LiveChange,
  crew: StageCrew,
  ctx: Context,
  stages: Stages = unwatched,
): Promise<Outcome<Trial>> {
  const { build, geometry, strings, settings, board } = voice;
  const { parts, made } = voice.body;
  const input = { build, geometry, strings, settings, body: { parts, made }, board };
  const model = prepareLive(input, ctx, parameters);
  if (!model.ok) return model;
  const live = liveEdit(model.value, change, ctx);
  if (!live.ok) return live;
  if (live.value.needsFullSolve.length === 0) return done({ change, live: live.value, full: null });
  let changed = build;
  for (const { parameter, factor } of change) {
    const next = changedBuild(changed, parameter, factor);
    if (next === null) return failed("no-such-value", `a full solve cannot follow ${parameter}`);
    changed = next.build;
  }
  const full = await computeVoice(changed, geometry, strings, crew, settings, stages);
  if (!full.ok) return full;
  const warnings: Warning[] = [...live.warnings, ...full.warnings];
  return done({ change, live: live.value, full: full.value }, warnings);
}
