import { slotCards } from "#engine/drawings";
import { type SlotsReport, type StringSlots, slotCardsView, slotsReport } from "#engine/pipeline";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { OpenInstrument } from "./instrument.ts";
import { inchesOf, millimetresOf, table, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout slots`: where each slot is cut, measured from the nut and never fret to fret. */
export function slots(instrument: OpenInstrument, { json = false, out }: VerbOptions): Answer {
  const { build, geometry, strings, path } = instrument;
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  const report = slotsReport(build, geometry, strings);
  const text = JSON.stringify(report, null, 2);
  if (out !== undefined) {
    const cards = slotCardsView(build, geometry, report);
    if (!cards.ok) return refusal(path, [engineFault(cards)], json);
    const fault = writeInto(out, { "slots.json": `${text}\n`, "cards.html": slotCards(cards.value) });
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  if (json) return good(text);
  const where = out === undefined ? "" : `\nThe cards to print are in ${out}/cards.html\n`;
  return good(`${slotsText(build.name, report)}${where}`);
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
  return `${name}: slots, each measured from the nut along the outer strings; angle and length are the slot's own

${table([["fret", `string ${outer[0].string}`, "", `string ${outer[1].string}`, "", "angle", "length"], ...rows])}

${cutsText(report)}

${offsetText(report)}

${wrapped(`${report.validity}.`, "  ")}
`;
}

function cutsText({ cuts, cutsRefused }: SlotsReport): string {
  if (cuts === null) return wrapped(`${cutsRefused!.detail}.`, "  ", "    ");
  const rows = cuts.frets.map((f) => [
    String(f.fret),
    millimetresOf(f.bassEdgeM, 2),
    millimetresOf(f.trebleEdgeM, 2),
    millimetresOf(f.fromNutBassToTrebleM, 2),
    millimetresOf(f.fromNutTrebleToBassM, 2),
    `${millimetresOf(f.wireM)} / ${millimetresOf(f.tangM)}`,
  ]);
  const { bridge } = cuts;
  return [
    wrapped(
      "Along the board's edges from the nut line's ends, and the diagonals that check it: from the nut's bass end to the slot's treble end, and the other way; fret and tang are cut to length",
    ),
    table([["fret", "bass edge", "treble edge", "from bass", "from treble", "fret / tang"], ...rows]),
    wrapped(
      `Fret wire in all ${(cuts.wireInAllM * 1e3).toFixed(0)} mm, slots ${millimetresOf(cuts.slotWidthM, 2)} wide and ${millimetresOf(cuts.slotDepthM)} deep. Theoretical saddle line: ${millimetresOf(bridge.lowestM, 2)} along the lowest string and ${millimetresOf(bridge.highestM, 2)} along the highest; diagonals from the lowest string's nut end to the highest's saddle end ${millimetresOf(bridge.fromLowestNutToHighestM, 2)}, the other way ${millimetresOf(bridge.fromHighestNutToLowestM, 2)}.`,
      "  ",
    ),
  ].join("\n\n");
}

function offsetText(report: SlotsReport): string {
  const refused = report.strings.flatMap((s) =>
    s.refused === null ? [] : [wrapped(`${s.refused.detail}.`, "  ", "    ")],
  );
  const good = report.strings.filter((s) => s.refused === null);
  const parts = [...refused];
  if (good.length > 0) {
    parts.push(
      wrapped(
        "Nut and saddle: how far each string runs on behind its scale, and how far the nut moves forward. Finger: how deep it presses behind the fret. Left: cents left over, rms. Own, one: if the nut moves too, a place for each string or one for all",
      ),
      table([
        [
          "string",
          "scale",
          "finger",
          "saddle",
          "left",
          "own nut",
          "saddle",
          "left",
          "one nut",
          "saddle",
          "left",
        ],
        ...good.map((s) => [
          String(s.string),
          millimetresOf(s.scaleLengthM, 2),
          millimetresOf(s.fingerDepthM, 2),
          millimetresOf(s.saddleOffsetM!, 1),
          roughCents(s.errorRmsCents!),
          ...[s.ownNut, s.sharedNut].flatMap((o) =>
            o === null
              ? ["none", "", ""]
              : [
                  millimetresOf(o.nutOffsetM, 1),
                  millimetresOf(o.saddleOffsetM, 1),
                  roughCents(o.errorRmsCents),
                ],
          ),
        ]),
      ]),
      "Cents that remain on each fret with the saddle so and the nut on its line (sharp above 0; the open string is tuned true)",
      fretTable(report, good, (s, fret) => wholeCents(s.frets[fret]!.cents!)),
      ...raisedText(report, good),
    );
  }
  parts.push(...tuningText(report), ...good.flatMap(measuredText));
  return parts.join("\n\n");
}

/** One row a fret, one column a string, lowest string first as on the board. */
function fretTable(
  report: SlotsReport,
  strings: readonly StringSlots[],
  cell: (s: StringSlots, fret: number) => string,
): string {
  const across = [...strings].reverse();
  return table([
    ["fret", ...across.map((s) => `string ${s.string}`)],
    ...report.slots.map(({ fret }) => [String(fret), ...across.map((s) => cell(s, fret))]),
  ]);
}

function raisedText(report: SlotsReport, strings: readonly StringSlots[]): string[] {
  const able = strings.filter((s) => s.actionRaised !== null);
  if (able.length === 0) return [];
  const raise = millimetresOf(report.actionRaiseM, 1);
  const shown = [1, 5, 12, report.slots.length].filter(
    (fret, i, all) => fret <= report.slots.length && all.indexOf(fret) === i,
  );
  return [
    `Action up ${raise} over fret 12, nothing re-cut: cents sharper on fret ${shown.join(", ")}; and the saddle it would want`,
    table([
      ["string", ...shown.map((fret) => `fret ${fret}`), "saddle", "left"],
      ...able.map((s) => [
        String(s.string),
        ...shown.map((fret) => wholeCents(s.actionRaised!.centsChange[fret]!)),
        millimetresOf(s.actionRaised!.saddleOffsetM, 1),
        roughCents(s.actionRaised!.errorRmsCents),
      ]),
    ]),
  ];
}

function tuningText(report: SlotsReport): string[] {
  return report.otherTunings.flatMap(({ name, strings }) => [
    wrapped(
      `${name}: what the same nut and saddle leave, cents rms and worst; and the saddle this tuning alone would want`,
    ),
    table([
      ["string", "note", "left", "worst", "on fret", "saddle"],
      ...strings.map((s) =>
        s.left === null
          ? [String(s.string), s.note, "none", "", "", ""]
          : [
              String(s.string),
              s.note,
              roughCents(s.left.errorRmsCents),
              wholeCents(s.left.worstCents),
              String(s.left.worstFret),
              millimetresOf(s.left.saddleOffsetM, 1),
            ],
      ),
    ]),
    ...strings.flatMap((s) => (s.refused === null ? [] : [wrapped(`${s.refused.detail}.`, "  ", "    ")])),
  ]);
}

function measuredText({ string, measured }: StringSlots): string[] {
  if (measured === null) return [];
  if (measured.refused !== null)
    return [wrapped(`Measured cents: ${measured.refused.detail}.`, "  ", "    ")];
  const { moveM, lowM, highM } = measured.recut!;
  const way = moveM >= 0 ? "back, away from the nut" : "forward, towards the nut";
  const [near, far] = [lowM, highM].map((m) => (moveM >= 0 ? m : -m)).sort((a, b) => a - b);
  const lines = [
    `String ${string}, from measured cents (its saddle taken to stand at the offset above): move the crown ${millimetresOf(Math.abs(moveM), 1)} ${way}; the readings allow ${millimetresOf(near!, 1)} to ${millimetresOf(far!, 1)}${lowM < 0 && highM > 0 ? ", so it may stay" : ""}.`,
    ...measured.warnings.map((w) => `${w}.`),
  ];
  return lines.map((line) => wrapped(line, "  ", "    "));
}

/** Model and finger are worth whole cents. */
function wholeCents(cents: number): string {
  const whole = Math.round(cents);
  return whole > 0 ? `+${whole}` : String(whole === 0 ? 0 : whole);
}

function roughCents(rms: number): string {
  return rms < 1 ? "<1" : rms.toFixed(0);
}
