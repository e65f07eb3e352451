import type { Build } from "#engine/instrument";
import { boardEvenness, type NoteBoard, type NoteBoardInput, type NoteRow, noteBoard } from "#engine/notes";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { BodyResponse } from "#engine/response";
import { evenness, markMeant, type Verdict, wolfRisk } from "#engine/verdicts";
import { coupledNotes } from "./voiceVerdicts.ts";

/** What a verdict says of the body's modes. */
type NamedModes = Pick<BodyResponse, "name" | "frequency">;

/** How a further tuning of the same strings sounds on the body; JSON contract. */
export interface TuningVoice {
  readonly name: string;
  readonly notes: readonly string[];
  /** Notes whose wolf index is 1 or more. */
  readonly wolfNotes: number;
  /** Null where no note has an index. */
  readonly worstWolf: {
    readonly string: number;
    readonly fret: number;
    readonly note: string;
    readonly wolfIndex: number;
  } | null;
  readonly evenness: NoteBoard["evenness"];
  /** Wolf risk and evenness in this tuning. */
  readonly verdicts: readonly Verdict[];
}

export const tuningVoiceValidity =
  "Other tunings are told on the body as the first tuning's pull stresses it; a pull that is a tenth lighter would move the main modes by some 5 cents (computed on an example), which is left out.";

/**
 * The note board of every further tuning, on one body: `input` and `board` are the first tuning's. A string at a note that
 * was met before is not computed again. Fails as `noteBoard` does.
 */
export function tuningBoards(
  build: Build,
  response: NamedModes,
  input: NoteBoardInput,
  board: NoteBoard,
  ctx: Context,
): Outcome<readonly TuningVoice[]> {
  const [main, ...others] = build.tunings;
  const perString = input.frets + 1;
  const known = new Map<string, readonly NoteRow[]>();
  const at = (string: number, frequency: number): string => `${string} ${frequency}`;
  const learn = (keys: readonly string[], rows: readonly NoteRow[]): void => {
    for (const [k, key] of keys.entries()) known.set(key, rows.slice(k * perString, (k + 1) * perString));
  };
  learn(
    main!.frequencies.map((frequency, k) => at(k, frequency)),
    board.noteBoard,
  );
  const told: TuningVoice[] = [];
  for (const { name, notes, frequencies } of others) {
    const keys = frequencies.map((frequency, k) => at(k, frequency));
    const fresh = keys.flatMap((key, k) => (known.has(key) ? [] : [k]));
    if (fresh.length > 0) {
      const made = noteBoard(
        {
          ...input,
          strings: fresh.map((k) => ({ ...input.strings[k]!, frequency: frequencies[k]! })),
          bodies: fresh.map((k) => input.bodies[k]!),
          ...(input.farEnds === undefined ? {} : { farEnds: fresh.map((k) => input.farEnds![k]!) }),
        },
        ctx,
      );
      if (!made.ok) return made;
      learn(
        fresh.map((k) => keys[k]!),
        made.value.noteBoard,
      );
    }
    const rows = keys.flatMap((key) => known.get(key)!);
    told.push(tuningVoice(build, response, { name, notes }, rows));
  }
  return done(told);
}

function tuningVoice(
  build: Build,
  response: NamedModes,
  tuning: Pick<TuningVoice, "name" | "notes">,
  rows: readonly NoteRow[],
): TuningVoice {
  const even = boardEvenness(rows);
  const coupled = coupledNotes(response, rows);
  const [first] = coupled;
  const worst =
    first === undefined ? null : coupled.reduce((a, b) => (b.wolfIndex > a.wolfIndex ? b : a), first);
  const verdicts = [
    wolfRisk(coupled),
    evenness({ notes: rows, levelSpreadDb: even.levelSpreadDb, target: build.targets.levelSpreadDb }),
  ];
  return {
    ...tuning,
    wolfNotes: coupled.filter(({ wolfIndex }) => wolfIndex >= 1).length,
    worstWolf:
      worst === null
        ? null
        : { string: worst.string, fret: worst.fret, note: worst.note, wolfIndex: worst.wolfIndex },
    evenness: even,
    verdicts: markMeant(verdicts, build.meant).verdicts,
  };
}

/** Each further tuning in a sentence, for the report. */
export function tuningWords(tunings: readonly TuningVoice[]): readonly string[] {
  return tunings.map(({ name, wolfNotes, worstWolf, evenness: even, verdicts }) => {
    const dead = verdicts.find(({ id }) => id === "evenness")!.figures["deadNotes"]!;
    const place =
      worstWolf === null
        ? ""
        : `, the highest index ${worstWolf.wolfIndex.toFixed(1)} at ${worstWolf.note} on string ${worstWolf.string} (${worstWolf.fret === 0 ? "open" : `fret ${worstWolf.fret}`})`;
    const spread =
      even.levelSpreadDb === null
        ? "no level is foreseen"
        : `the notes to fret 15 spread over ${even.levelSpreadDb.toFixed(0)} dB`;
    return `${name}: ${count(wolfNotes, "wolf note")}${place}; ${count(dead, "dead note")}; ${spread}.`;
  });
}

const count = (n: number, noun: string): string => `${n === 0 ? "no" : n} ${noun}${n === 1 ? "" : "s"}`;
