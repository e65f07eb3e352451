import { loadDrawings, loadReport as loadSheet, svgFile } from "#engine/drawings";
import { computeLoad, defaultBodySettings, type LoadReport, loadReportOf, loadView } from "#engine/pipeline";
import { exitStatus } from "#engine/verdicts";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { bodyLoadText } from "./bodyLoadText.ts";
import { engineFault } from "./engineFault.ts";
import type { Hands } from "./hands.ts";
import type { OpenInstrument } from "./instrument.ts";
import { cautionText, marginText, yearsText } from "./marginText.ts";
import { terminalProgress } from "./progress.ts";
import { kilogramsForce, millimetresOf, newtons, table, verdictText, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout load`: string tensions, breaking margins and the turn of the bridge. */
export async function load(
  instrument: OpenInstrument,
  { json = false, out }: VerbOptions,
  hands: Hands,
): Promise<Answer> {
  const { build, geometry, strings, path } = instrument;
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  const progress = terminalProgress(process.stderr);
  const computed = await computeLoad(build, geometry, strings, defaultBodySettings, hands, progress);
  progress.end();
  if (!computed.ok) return refusal(path, [engineFault(computed)], json);
  const report = loadReportOf(build, geometry, strings, defaultBodySettings, computed.value);
  const text = JSON.stringify(report, null, 2);
  const status = exitStatus(report.verdicts);
  if (out !== undefined) {
    const view = loadView(build, geometry, strings, computed.value, report);
    if (!view.ok) return refusal(path, [engineFault(view)], json);
    const pictures = [...loadDrawings(view.value)].map(([id, drawing]) => [`${id}.svg`, svgFile(drawing)]);
    const files = {
      "report.html": loadSheet(view.value),
      "load.json": `${text}\n`,
      ...Object.fromEntries(pictures),
    };
    const fault = writeInto(out, files);
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  if (json) return good(text, status);
  const where = out === undefined ? "" : `\nThe report to read is ${out}/report.html\n`;
  return good(`${loadText(build.name, report)}${where}`, status);
}

function loadText(name: string, report: LoadReport): string {
  const rows = report.strings.map((s) => [
    String(s.string),
    s.note,
    newtons(s.tensionN),
    `${(s.linearDensityKgPerM * 1e3).toFixed(2)} g/m`,
    `at ${s.breakMargin.toFixed(1)} times`,
    s.inharmonicityB.toExponential(1),
  ]);
  const { bridge } = report;
  return `${name}: string load

${table([["string", "note", "tension", "weight", "breaks", "inharmonicity B"], ...rows])}

  in all              ${newtons(report.totalN)} (${kilogramsForce(report.totalN)})
  couple on bridge    ${bridge.momentNm.toFixed(1)} N m
  bridge turns        ${bridge.rotationDeg.toFixed(1)} degrees toward the nut, give or take 20 %
  neck block turns    ${report.neckBlock.tiltDeg.toFixed(2)} degrees toward the nut, and twists by ${Math.abs(report.neckBlock.twistDeg).toFixed(2)}
  buckling            ${bucklingWords(report.buckling)}
  top sinks           ${millimetresOf(-bridge.topLeastM, 1)} at its hollow, and rises ${millimetresOf(bridge.topGreatestM, 1)} at its belly

${wrapped(`${bridge.validity}.`, "  ")}

${bodyLoadText(report)}

${yearsText(report)}

${marginText(report)}

${verdictText(report.verdicts)}

${cautionText(report.cautions)}
`;
}

/** The factor, and where the shape moves most: x from the tail, y towards the bass. */
function bucklingWords({ factor, place }: LoadReport["buckling"]): string {
  if (factor === null) return "none found";
  const where =
    place === null
      ? ""
      : `, at the ${place.part}, x ${millimetresOf(place.x, 0)}, y ${millimetresOf(place.y, 0)}`;
  return `at ${factor.toFixed(1)} times this load by linear theory, a half of which can be counted on${where}`;
}
