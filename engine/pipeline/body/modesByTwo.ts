import { done, type Outcome } from "#engine/numerics";
import { type BodyModes, joinedModes } from "#engine/shells";
import type { Stages } from "../stages.ts";
import type { JoinInput, StageCrew } from "./jobs.ts";
import { refusedPart } from "./refusedPart.ts";
import type { StringLoad } from "./stringLoad.ts";

/** Modes in vacuo, and the answer to the string load they were found under. */
export interface LoadedModes {
  readonly modes: BodyModes;
  readonly load: StringLoad | null;
}

/** One hand joins the body and loads it; then two share its modes up to a frequency (Hz), whoever they are the same way. */
export async function modesByTwo(
  input: JoinInput,
  toFrequency: number,
  crew: StageCrew,
  stages: Stages,
): Promise<Outcome<LoadedModes>> {
  const joined = await crew.run("join", input, stages.stage("body under its strings", 0.3, 0.5));
  if (!joined.ok) return joined;
  const { system, task, load } = joined.value;
  const watching = stages.stage("modes of the body", 0.5, 0.7);
  const [low, high] = await Promise.all(
    (["low", "high"] as const).map((share) => crew.run("modes", { ...task, share, toFrequency }, watching)),
  );
  const strung = load !== null;
  if (!low!.ok) return refusedPart(low!, system, strung);
  if (!high!.ok) return refusedPart(high!, system, strung);
  const modes = refusedPart(joinedModes(system, low!.value, high!.value), system, strung);
  return modes.ok
    ? done({ modes: modes.value, load }, [...joined.warnings, ...low!.warnings, ...high!.warnings])
    : modes;
}
