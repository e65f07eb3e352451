import type { Level, Verdict } from "#engine/verdicts";
import type { Desk, Stage } from "../desk/deskTypes.ts";
import type { Organ, StageEntry } from "./stages.ts";

type Computed = Pick<Desk, Organ>;

/** A verdict, and whether it belongs to the document in hand. */
export interface HeldVerdict {
  readonly verdict: Verdict;
  readonly fresh: boolean;
}

const gravestFirst: readonly Level[] = ["stop", "watch", "good"];

/** Those results that judge, the one that knows most first: several may carry a verdict of the same id. */
function judging(desk: Computed): readonly Stage<{ readonly verdicts: readonly Verdict[] }>[] {
  return [desk.strings, desk.neck, desk.setup, desk.load, desk.voice];
}

/** Every verdict there is, one of each id: a fresh one before a stale one. */
export function allVerdicts(desk: Computed): readonly HeldVerdict[] {
  const held = new Map<string, HeldVerdict>();
  for (const { value, fresh } of judging(desk))
    for (const verdict of value?.verdicts ?? []) {
      const before = held.get(verdict.id);
      if (before === undefined || (fresh && !before.fresh)) held.set(verdict.id, { verdict, fresh });
    }
  return [...held.values()];
}

/** The stage's verdicts, gravest first. */
export function verdictsOf(stage: StageEntry, desk: Computed): readonly HeldVerdict[] {
  const order = ({ verdict }: HeldVerdict) => gravestFirst.indexOf(verdict.level);
  return allVerdicts(desk)
    .filter(({ verdict }) => stage.verdicts.includes(verdict.id))
    .sort((a, b) => order(a) - order(b));
}

/** How a stage stands: its worst verdict, and in words what is not known yet. */
export interface StageStanding {
  readonly level: Level | null;
  /** Empty: everything of it is computed for the document in hand. */
  readonly words: string;
}

export function standingOf(stage: StageEntry, desk: Computed): StageStanding {
  const organs = stage.organs.map((organ): Stage<unknown> => desk[organ]);
  const held = verdictsOf(stage, desk);
  const level = held[0]?.verdict.level ?? null;
  const working = organs.find(({ status }) => status === "working");
  const words = (): string => {
    if (working !== undefined)
      return working.fraction > 0 ? `computing ${Math.round(100 * working.fraction)} %` : "computing";
    if (organs.some(({ status }) => status === "waiting")) return "waiting";
    if (organs.some(({ status }) => status === "failed")) return "could not be computed";
    if (organs.some(({ value }) => value === null)) return "not computed";
    if (organs.some(({ fresh }) => !fresh) || held.some(({ fresh }) => !fresh)) return "earlier state";
    return "";
  };
  const said = words();
  // good as far as it is known is not yet good
  const known = level !== "good" || !organs.some(({ value }) => value === null);
  return { level: known ? level : null, words: said };
}

/** The gravest of all that is known, and whether that is all there is to know; null: nothing is judged. */
export function overallStanding(desk: Computed): { readonly level: Level | null; readonly all: boolean } {
  const held = allVerdicts(desk);
  const level = gravestFirst.find((l) => held.some(({ verdict }) => verdict.level === l)) ?? null;
  return { level, all: judging(desk).every(({ fresh }) => fresh) };
}
