import {
  type BuildState,
  buildStates,
  defaultBodySettings,
  type StateReport,
  stateReport,
} from "#engine/pipeline";
import { nearestNote } from "#engine/verdicts";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { Hands } from "./hands.ts";
import type { OpenInstrument } from "./instrument.ts";
import { terminalProgress } from "./progress.ts";
import { hertz, table, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout body`: modes of the body in one state of its building. */
export async function body(
  instrument: OpenInstrument,
  { json = false, out, state = "strung" }: VerbOptions & { readonly state?: string },
  hands: Hands,
): Promise<Answer> {
  const { build, geometry, strings, path } = instrument;
  const known = buildStates.find((name) => name === state);
  if (known === undefined) {
    const message = `There is no build state "${state}". Allowed: ${buildStates.map((name) => `"${name}"`).join(", ")}.`;
    return refusal(path, [{ path: "--state", message }], json);
  }
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  const progress = terminalProgress(process.stderr);
  const report = await stateReport(build, geometry, strings, known, defaultBodySettings, hands, progress);
  progress.end();
  if (!report.ok) return refusal(path, [engineFault(report)], json);
  const text = JSON.stringify(report.value, null, 2);
  if (out !== undefined) {
    const fault = writeInto(out, { "body.json": `${text}\n` });
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  return good(json ? text : bodyText(build.name, build.tuningReference, known, report.value), 0);
}

const shown = 16;

function bodyText(name: string, a4: number, state: BuildState, report: StateReport): string {
  const percent = (share: number | null): string => (share === null ? "" : `${Math.round(100 * share)} %`);
  const rows = report.bodyModes.slice(0, shown).map((mode) => {
    const { note, cents } = nearestNote(mode.frequencyHz, a4);
    const { top, back, sidesAndBlocks, neck, air } = mode.kineticShare;
    return [
      hertz(mode.frequencyHz),
      `± ${hertz(mode.frequencySigmaHz)}`,
      `${note} ${cents < 0 ? "-" : "+"}${Math.abs(cents)} cents`,
      mode.q.toFixed(0),
      percent(top),
      percent(back),
      percent(sidesAndBlocks),
      percent(neck),
      percent(air),
      mode.name ?? "",
    ];
  });
  const heads = ["frequency", "likely", "nearest note", "Q", "top", "back", "sides", "neck", "air", "name"];
  return `${name}: ${state}

  weighs   ${report.massKg.toFixed(report.massKg < 1 ? 3 : 2)} kg

Modes, and where they move: the lowest ${Math.min(shown, report.bodyModes.length)} of ${report.bodyModes.length}

${table([heads, ...rows])}

${wrapped(
  `Likely: one standard deviation against a real guitar, engineering judgement with the wood known as "${report.knowledge}"; Q within a factor of ${report.qFactor}. Single modes are foreseen to ${hertz(report.modesToHz)}. Shares are of the moving energy. The body is ${report.validity}.`,
  "  ",
)}
`;
}
