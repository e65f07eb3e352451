import { type SlotsReport, slotsReport } from "#engine/pipeline";
import { type Answer, good, refusal, writeInto } from "./answer.ts";
import type { OpenInstrument } from "./instrument.ts";
import { inchesOf, millimetresOf, table, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout slots`: where each slot is cut, measured from the nut and never fret to fret. */
export function slots(instrument: OpenInstrument, { json = false, out }: VerbOptions): Answer {
  const { build, geometry, strings } = instrument;
  const report = slotsReport(build, geometry, strings);
  const text = JSON.stringify(report, null, 2);
  if (out !== undefined) {
    const fault = writeInto(out, { "slots.json": `${text}\n` });
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  return good(json ? text : slotsText(build.name, report));
}

function slotsText(name: string, report: SlotsReport): string {
  const outer = [report.strings[report.strings.length - 1]!, report.strings[0]!] as const;
  const rows = report.slots.map((slot) => {
    const [bass, treble] = outer.map((s) => s.frets[slot.fret]!.nutToFretM);
    return [
      String(slot.fret),
      millimetresOf(bass!, 2),
      inchesOf(bass!),
      millimetresOf(treble!, 2),
      inchesOf(treble!),
      `${slot.angleDeg.toFixed(2)} deg`,
      millimetresOf(slot.lengthM, 1),
    ];
  });
  const offsets = report.strings.map((s) => [
    String(s.string),
    millimetresOf(s.scaleLengthM, 2),
    millimetresOf(s.saddleOffsetM, 1),
    millimetresOf(s.nutOffsetM, 1),
    s.errorRmsCents < 1 ? "under 1 cent" : `${s.errorRmsCents.toFixed(0)} cents`,
  ]);
  return `${name}: slots, each measured from the nut along the outer strings; angle and length are the slot's own

${table([["fret", `string ${outer[0].string}`, "", `string ${outer[1].string}`, "", "angle", "length"], ...rows])}

Nut and saddle: how far each string runs on behind its scale, and how far the nut moves forward

${table([["string", "scale", "saddle", "nut", "left over"], ...offsets])}

${wrapped(`${report.validity}.`, "  ")}
`;
}
