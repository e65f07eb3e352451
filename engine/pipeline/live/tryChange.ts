import { type Context, done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { StageCrew } from "../body/jobs.ts";
import { type Stages, unwatched } from "../stages.ts";
import { computeVoice, type Voice } from "../voice.ts";
import { changedBuild } from "./changedBuild.ts";
import { liveEdit, type SettledEdit, settleEdit } from "./liveEdit.ts";
import type { LiveFactor, LiveResult } from "./liveModel.ts";
import type { LiveParameter } from "./liveParameters.ts";
import { prepareRefreshable } from "./prepareLive.ts";

/** What a change does to a voice: the reduced model's answer, and the full one where that asked for it. */
export interface Trial {
  readonly change: readonly LiveFactor[];
  readonly live: LiveResult;
  /** The same with the structure's lowest frequencies made exact, as when the hand lets go. */
  readonly settled: SettledEdit;
  /** null: the settled edit is good enough. */
  readonly full: Voice | null;
}

/**
 * Tries a change of a computed voice: on the reduced model first, made for these parameters alone; then with the structure's lowest
 * frequencies exact; and by a full solve of the changed instrument if that answer asks for one. Fails as both do, and with 'no-such-value'.
 */
export async function tryChange(
  voice: Voice,
  parameters: readonly LiveParameter[],
  change: readonly LiveFactor[],
  crew: StageCrew,
  ctx: Context,
  stages: Stages = unwatched,
): Promise<Outcome<Trial>> {
  const { build, geometry, strings, settings, board } = voice;
  const { parts, made } = voice.body;
  const input = { build, geometry, strings, settings, body: { parts, made }, board };
  const prepared = prepareRefreshable(input, ctx, parameters);
  if (!prepared.ok) return prepared;
  const { model, refresh } = prepared.value;
  const live = liveEdit(model, change, ctx);
  if (!live.ok) return live;
  const settled = settleEdit(model, refresh, change, ctx);
  if (!settled.ok) return settled;
  const both = { change, live: live.value, settled: settled.value };
  if (settled.value.needsFullSolve.length === 0) return done({ ...both, full: null });
  let changed = build;
  for (const { parameter, factor } of change) {
    const next = changedBuild(changed, parameter, factor);
    if (next === null) return failed("no-such-value", `a full solve cannot follow ${parameter}`);
    changed = next.build;
  }
  const full = await computeVoice(changed, geometry, strings, crew, settings, stages);
  if (!full.ok) return full;
  const warnings: Warning[] = [...live.warnings, ...full.warnings];
  return done({ ...both, full: full.value }, warnings);
}
