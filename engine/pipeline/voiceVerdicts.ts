import { type BodyPlan, fairness as fairnessOf } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import type { NoteBoard, NoteRow } from "#engine/notes";
import type { BodyResponse } from "#engine/response";
import {
  type CurveFairness,
  evenness,
  type Knowledge,
  mainModePlacing,
  type PlayedNote,
  type Verdict,
  wolfRisk,
} from "#engine/verdicts";

/** How well the wood is known: measured boards narrow the ranges when density and both stiffnesses of the top were measured. */
export function knowledgeOf(build: Build): Knowledge {
  const measured = new Set(
    build.uncertain.filter(({ how }) => how === "measured").map(({ buildPath }) => buildPath),
  );
  const needed = ["top.wood.density", "top.wood.EL", "top.wood.ER"];
  return needed.every((path) => measured.has(path)) ? "board measured" : "catalogue";
}

/** Fairness of the curves of a plan, in the words of the verdict. */
export function curveFairness(plan: BodyPlan): readonly CurveFairness[] {
  return (["outline", "hole"] as const).map((name) => {
    const report = fairnessOf(plan, name);
    return {
      name,
      faults: report.findings.map(({ kind, place, part }) => ({ kind, x: place[0], y: place[1], part })),
      energyRatio: report.energyRatio,
    };
  });
}

/** Verdicts on the voice, unmarked: where the main modes sit, wolf risk, evenness. */
export function voiceVerdicts(
  build: Build,
  response: BodyResponse,
  board: NoteBoard,
  knowledge: Knowledge,
): readonly Verdict[] {
  const played: PlayedNote[] = build.strings.map(({ note, frequency }) => ({
    note,
    frequency,
    role: "open string",
  }));
  const targets = {
    "main air": build.targets.mainAir,
    "main top": build.targets.mainTop,
    "main back": build.targets.mainBack,
  };
  const placings = (["main air", "main top", "main back"] as const).flatMap((name) => {
    const index = response.name.indexOf(name);
    if (index < 0) return [];
    const frequency = response.frequency[index]!;
    const a4 = build.tuningReference;
    return [mainModePlacing({ name, frequency, knowledge, played, target: targets[name], a4 })];
  });
  return [
    ...placings,
    wolfRisk(coupledNotes(response, board.noteBoard)),
    evenness({
      notes: board.noteBoard,
      levelSpreadDb: board.evenness.levelSpreadDb,
      target: build.targets.levelSpreadDb,
    }),
  ];
}

/** The notes that have a wolf index, each with the body mode to blame. */
export function coupledNotes(
  response: Pick<BodyResponse, "name" | "frequency">,
  rows: readonly NoteRow[],
): Parameters<typeof wolfRisk>[0] {
  return rows.flatMap(({ string, fret, note, wolfIndex, blame }) =>
    wolfIndex === null
      ? []
      : [
          {
            string,
            fret,
            note,
            wolfIndex,
            mode:
              blame === null
                ? null
                : {
                    name: response.name[blame.modeIndex] ?? null,
                    frequency: response.frequency[blame.modeIndex]!,
                  },
          },
        ],
  );
}
