import { voiceReport as voiceSheet } from "#engine/drawings";
import { computeVoice, defaultBodySettings, type Voice, voiceReport, voiceView } from "#engine/pipeline";
import { exitStatus } from "#engine/verdicts";
import { type Answer, good, refusal, writeInto } from "./answer.ts";
import type { OpenInstrument } from "./instrument.ts";
import type { VerbOptions } from "./program.ts";
import { terminalProgress } from "./progress.ts";
import { hertz, kilogramsForce, table, verdictText } from "./text.ts";

/** `fairbout voice`: the main job. With --out it also writes report.html and voice.json. */
export function voice(instrument: OpenInstrument, { json = false, out }: VerbOptions): Answer {
  const { build, geometry, strings, path } = instrument;
  const progress = terminalProgress(process.stderr);
  const computed = computeVoice(build, geometry, strings, defaultBodySettings, progress);
  progress.end();
  if (!computed.ok) return refusal(path, [{ path: "", message: computed.detail }], json);
  const text = JSON.stringify(voiceReport(computed.value), null, 2);
  if (out !== undefined) {
    const files = { "report.html": voiceSheet(voiceView(computed.value)), "voice.json": `${text}\n` };
    const fault = writeInto(out, files);
    if (fault !== null) return refusal(out, [{ path: "", message: fault }], json);
  }
  const status = exitStatus(computed.value.verdicts);
  if (json) return good(text, status);
  const where = out === undefined ? "" : `\nThe report to read is ${out}/report.html\n`;
  return good(`${voiceText(computed.value)}${where}`, status);
}

function voiceText(voice: Voice): string {
  const { response } = voice.body;
  const shown = Math.min(12, response.count);
  const modes = Array.from({ length: shown }, (_, i) => {
    const mass = response.effectiveMass[i];
    return [
      hertz(response.frequency[i]!),
      response.q[i]!.toFixed(0),
      mass === null || mass === undefined
        ? "no motion"
        : `${mass < 10 ? mass.toFixed(2) : mass.toFixed(0)} kg`,
      response.name[i] ?? "",
    ];
  });
  const worst = voice.board.evenness.worst
    .slice(0, 6)
    .map((w) => [
      w.note,
      `string ${w.string}`,
      w.fret === 0 ? "open" : `fret ${w.fret}`,
      w.why,
      w.figure.toFixed(1),
    ]);
  const spread = voice.board.evenness.levelSpreadDb;
  return `${voice.build.name}: voice

  pull of the strings   ${kilogramsForce(voice.load.total)}
  modes valid to        ${hertz(response.modesToHz)}, levels to ${hertz(voice.board.validToHz)}

Body modes (the lowest ${shown} of ${response.count})

${table([["frequency", "Q", "mass at the saddle", "name"], ...modes])}

Notes that stand out${spread === null ? "" : ` (levels spread over ${spread.toFixed(0)} dB)`}

${worst.length === 0 ? "  none" : table([["note", "string", "fret", "why", "figure"], ...worst])}

${verdictText(voice.verdicts)}
`;
}
