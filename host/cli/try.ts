import {
  computeVoice,
  defaultBodySettings,
  holeParameter,
  type LiveFactor,
  liveParameters,
  type stageJobs,
  tryChange,
  type Voice,
} from "#engine/pipeline";
import { inUnit, nearestWord } from "#engine/units";
import { nodeCrew } from "#host/jobs";
import { type Answer, good, refusal } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { OpenInstrument } from "./instrument.ts";
import { terminalProgress } from "./progress.ts";
import { hertz, table, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** What stands beside every figure of a trial. */
const accuracy =
  "Each figure is as uncertain as in `voice`: frequencies by some 3 to 5 % where the top's board was measured, to 10 % where not; rotation by 20 %; a " +
  "wolf is foreseen within one fret in 7 cases of 10. The change from before to after is about twice as safe (engineering judgement, docs/limits.md).";

type Response = Voice["body"]["response"];

/** One figure before and after. */
interface Moved {
  readonly figure: string;
  readonly before: number | null;
  readonly after: number | null;
}

/** `fairbout try`: what a change of a value does to voice and load, by the reduced model of live edits. */
export async function tryOut(
  instrument: OpenInstrument,
  { json = false, to = [] }: VerbOptions & { readonly to?: readonly string[] },
): Promise<Answer> {
  const { build, geometry, strings, path } = instrument;
  const known = [...liveParameters(build), { id: holeParameter.id }].map(({ id }) => id);
  const asked = parseChange(to, known);
  if (typeof asked === "string") return refusal(path, [{ path: "--to", message: asked }], json);
  const progress = terminalProgress(process.stderr);
  const crew = nodeCrew<typeof stageJobs>();
  const voice = await computeVoice(build, geometry, strings, crew, defaultBodySettings, progress);
  const named = new Set(asked.map(({ parameter }) => parameter));
  const wanted = liveParameters(build).filter(
    ({ id, borrows }) =>
      named.has(id) ||
      liveParameters(build).some((p) => named.has(p.id) && p.borrows === id) ||
      (borrows !== null && named.has(borrows)),
  );
  const context = progress.stage("reduced model", 0.9, 1);
  const trial = voice.ok ? await tryChange(voice.value, wanted, asked, crew, context, progress) : voice;
  crew.close();
  progress.end();
  if (!voice.ok) return refusal(path, [engineFault(voice)], json);
  if (!trial.ok) return refusal(path, [engineFault(trial)], json);
  const { live, settled, full } = trial.value;
  const response = full?.body.response ?? settled.response;
  const board = full?.board ?? settled.board;
  const rotation = full?.body.load.figures.bridgeRotation ?? settled.load.bridgeRotation;
  const figures: Moved[] = [
    ...(["main air", "main top", "main back"] as const).map((name) => ({
      figure: `${name}, Hz`,
      before: frequencyOf(voice.value.body.response, name),
      after: frequencyOf(response, name),
    })),
    {
      figure: "spread of levels, dB",
      before: voice.value.board.evenness.levelSpreadDb,
      after: board.evenness.levelSpreadDb,
    },
    {
      figure: "notes with a wolf",
      before: wolves(voice.value.board),
      after: wolves(board),
    },
    {
      figure: "bridge turns, degrees",
      before: inUnit(voice.value.body.load.figures.bridgeRotation, "deg"),
      after: inUnit(rotation, "deg"),
    },
  ];
  const result = {
    change: asked,
    method: full === null ? "reduced model, exact modes" : "full solve",
    errorEstimate:
      full === null ? Math.max(0, ...settled.errorEstimate.subarray(0, settled.exactModes)) : null,
    exactModes: settled.exactModes,
    reducedModel: {
      errorEstimate: Math.max(0, ...live.errorEstimate.subarray(0, settled.exactModes)),
      error: settled.reducedError,
      bodyModesHz: Array.from(live.response.frequency),
    },
    needsFullSolve: settled.needsFullSolve,
    figures,
    bodyModesHz: Array.from(response.frequency),
    accuracy,
  };
  return good(json ? JSON.stringify(result, null, 2) : trialText(build.name, result), 0);
}

/** "top.braces[2].height=80 %": of the value in the document. Words of refusal if it cannot be read. */
function parseChange(words: readonly string[], known: readonly string[]): readonly LiveFactor[] | string {
  if (words.length === 0)
    return `Say what to change: --to "${known[0]}=90 %" (of its value now). It may stand several times.`;
  const change: { parameter: string; factor: number }[] = [];
  for (const word of words) {
    const found = /^\s*([^=]+?)\s*=\s*(\d+(?:\.\d+)?)\s*%\s*$/.exec(word);
    if (found === null) return `"${word}" is not a value and a percentage, like "${known[0]}=90 %".`;
    const [, parameter, percent] = found as unknown as [string, string, string];
    if (!known.includes(parameter)) {
      const near = nearestWord(parameter, known);
      return `"${parameter}" cannot be changed live.${near === null ? "" : ` Is "${near}" meant?`} Allowed: ${known.join(", ")}.`;
    }
    const factor = Number(percent) / 100;
    if (!(factor >= 0.2 && factor <= 5))
      return `${parameter} at ${percent} % of its value: allowed are 20 % to 500 %.`;
    if (change.some((before) => before.parameter === parameter))
      return `${parameter} is to change twice: say it once.`;
    change.push({ parameter, factor });
  }
  return change;
}

function frequencyOf(response: Response, name: "main air" | "main top" | "main back"): number | null {
  const at = response.name.indexOf(name);
  return at < 0 ? null : response.frequency[at]!;
}

function wolves(board: Voice["board"]): number {
  return board.noteBoard.filter(({ wolfIndex }) => (wolfIndex ?? 0) >= 1).length;
}

function trialText(
  name: string,
  result: {
    readonly change: readonly LiveFactor[];
    readonly method: string;
    readonly errorEstimate: number | null;
    readonly exactModes: number;
    readonly reducedModel: { readonly error: number; readonly bodyModesHz: readonly number[] };
    readonly needsFullSolve: readonly string[];
    readonly figures: readonly Moved[];
    readonly bodyModesHz: readonly number[];
  },
): string {
  const say = (value: number | null): string => (value === null ? "none" : value.toFixed(value < 20 ? 2 : 1));
  const rows = result.figures.map(({ figure, before, after }) => [figure, say(before), say(after)]);
  const changes = result.change.map(
    ({ parameter, factor }) => `${parameter} at ${(100 * factor).toFixed(0)} %`,
  );
  const how =
    result.errorEstimate === null
      ? `Solved in full, because ${result.needsFullSolve.join("; ")}.`
      : `The structure's first ${result.exactModes} frequencies are solved exactly, under the strings' forces as they were; what is left of their error is estimated at ${(100 * result.errorEstimate).toPrecision(1)} %. The reduced model of live edits, whose shapes are kept, was off by ${(100 * result.reducedModel.error).toPrecision(1)} % in one of them at most.`;
  return `${name}: ${changes.join(", ")}

${table([["", "before", "after"], ...rows])}

  lowest modes  ${result.bodyModesHz.slice(0, 8).map(hertz).join(", ")}
  while live    ${result.reducedModel.bodyModesHz.slice(0, 8).map(hertz).join(", ")}

${wrapped(`${how} ${accuracy}`, "  ")}
`;
}
