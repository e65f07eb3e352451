import { voiceReport as voiceSheet } from "#engine/drawings";
import {
  computeVoice,
  defaultBodySettings,
  totalPull,
  tuningVoiceValidity,
  type Voice,
  voiceReport,
  voiceView,
  withRanges,
} from "#engine/pipeline";
import { exitStatus, nearestNote, type Verdict } from "#engine/verdicts";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { Hands } from "./hands.ts";
import type { OpenInstrument } from "./instrument.ts";
import { terminalProgress } from "./progress.ts";
import { hertz, kilogramsForce, newtons, table, verdictText, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout voice`: the main job. With --out it also writes report.html and voice.json. */
export async function voice(
  instrument: OpenInstrument,
  { json = false, out, ranges = out !== undefined }: VerbOptions & { readonly ranges?: boolean },
  hands: Hands,
): Promise<Answer> {
  const { build, geometry, strings, path } = instrument;
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  const progress = terminalProgress(process.stderr);
  const plain = await computeVoice(build, geometry, strings, hands, defaultBodySettings, progress);
  const computed = plain.ok && ranges ? await withRanges(plain.value, hands, progress) : plain;
  progress.end();
  if (!computed.ok) return refusal(path, [engineFault(computed)], json);
  const text = JSON.stringify(voiceReport(computed.value), null, 2);
  if (out !== undefined) {
    const files = { "report.html": voiceSheet(voiceView(computed.value)), "voice.json": `${text}\n` };
    const fault = writeInto(out, files);
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  const status = exitStatus(computed.value.verdicts);
  if (json) return good(text, status);
  const where = out === undefined ? "" : `\nThe report to read is ${out}/report.html\n`;
  return good(`${voiceText(computed.value)}${where}`, status);
}

function voiceText(voice: Voice): string {
  const { response } = voice.body;
  const { evenness, validToHz } = voice.board;
  const shown = Math.min(modesShown, response.count);
  const modes = Array.from({ length: shown }, (_, i) => {
    const frequency = response.frequency[i]!;
    const { note, cents } = nearestNote(frequency, voice.build.tuningReference);
    return [
      hertz(frequency),
      `${note} ${cents < 0 ? "-" : "+"}${Math.abs(cents)} cents`,
      response.q[i]!.toFixed(0),
      movingMass(response.effectiveMass[i]),
      response.name[i] ?? "",
    ];
  });
  const worst = evenness.worst
    .slice(0, 6)
    .map((w) => [w.note, `string ${w.string}`, w.fret === 0 ? "open" : `fret ${w.fret}`, standsOut(w)]);
  const spread = evenness.levelSpreadDb;
  return `${voice.build.name}: voice

  pull of the strings   ${kilogramsForce(totalPull(voice.strings))} (${newtons(totalPull(voice.strings))})
  modes valid to        ${hertz(response.modesToHz)}
  levels valid to       ${hertz(validToHz)}; the ${evenness.notesInRange - evenness.notesCounted} of ${evenness.notesInRange} notes above it to fret 15 carry no level

Body modes: the lowest ${shown} of ${response.count}

${table([["frequency", "nearest note", "Q", "moving mass", "name"], ...modes])}

${wrapped(
  "The moving mass is what the strings feel at the saddle: a mode of little mass speaks up, one of much mass hardly hears the strings. Frequencies carry the range that the verdicts state; Q is known within a factor of 1.5.",
  "  ",
)}

Notes that stand out${spread === null ? "" : `: levels spread over ${spread.toFixed(0)} dB`}

${worst.length === 0 ? "  none" : table([["note", "string", "fret", "why"], ...worst])}
${otherTunings(voice)}
${verdictText(voice.verdicts)}
`;
}

/** Wolf notes and evenness of the further tunings beside the first one's. */
function otherTunings({ tunings, build, board, verdicts }: Voice): string {
  if (tunings.length === 0) return "";
  const own = build.tunings[0]!;
  const row = (name: string, told: readonly Verdict[], even: Voice["board"]["evenness"]): string[] => {
    const figure = (id: string, key: string): number =>
      told.find((v) => v.id === id)?.figures[key] ?? Number.NaN;
    const level = told.some((v) => tuningVerdicts.has(v.id) && v.level !== "good") ? "watch" : "good";
    return [
      name,
      String(figure("wolf-risk", "wolfNotes")),
      figure("wolf-risk", "worstIndex").toFixed(1),
      String(figure("evenness", "deadNotes")),
      even.levelSpreadDb === null ? "" : `${even.levelSpreadDb.toFixed(0)} dB`,
      level,
    ];
  };
  return `
In other tunings

${table([
  ["tuning", "wolf notes", "highest index", "dead notes", "spread", "verdict"],
  row(own.name, verdicts, board.evenness),
  ...tunings.map((t) => row(t.name, t.verdicts, t.evenness)),
])}

${wrapped(tuningVoiceValidity, "  ")}
`;
}

const tuningVerdicts = new Set(["wolf-risk", "evenness"]);

const modesShown = 12;

/** Two figures of the mass that a mode shows at the saddle; one that the saddle hardly moves is said to be so. */
function movingMass(mass: number | null | undefined): string {
  if (mass === null || mass === undefined || mass > 100) return "over 100 kg";
  return `${mass.toFixed(mass < 1 ? 2 : mass < 10 ? 1 : 0)} kg`;
}

function standsOut({ why, figure }: Voice["board"]["evenness"]["worst"][number]): string {
  if (why === "wolf") return `wolf, index ${figure.toFixed(1)} (1 is the threshold)`;
  if (why === "dead") return `dead, gone ${figure.toFixed(1)} times sooner than its neighbours`;
  return `${why}, ${Math.abs(figure).toFixed(0)} dB ${figure > 0 ? "over" : "under"} the middle of the board`;
}
