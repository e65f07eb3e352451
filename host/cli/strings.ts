import { type BalanceReport, type StringsReport, stringsReport } from "#engine/pipeline";
import { inches } from "#engine/units";
import { exitStatus } from "#engine/verdicts";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { constructionWords } from "./constructionWords.ts";
import type { OpenInstrument } from "./instrument.ts";
import { kilogramsForce, millimetresOf, newtons, table, verdictText, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

interface StringsOptions extends VerbOptions {
  readonly tuning?: string;
  readonly balance?: string;
}

/** `fairbout strings`: what every string is and how it stands in every tuning; with --balance a set to try instead. */
export function strings(
  { build, strings: set, path }: OpenInstrument,
  { json = false, out, tuning, balance }: StringsOptions,
): Answer {
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  if (balance !== undefined && balance !== "tension" && balance !== "feel")
    return refusal(
      path,
      [
        {
          path: "--balance",
          message: `"${balance}" cannot be made equal from string to string.`,
          allowed: "tension or feel",
          example: "--balance tension",
        },
      ],
      json,
    );
  const report = stringsReport(build, set, {
    ...(tuning === undefined ? {} : { tuning }),
    ...(balance === undefined ? {} : { balance }),
  });
  if (!report.ok) {
    const example = `--tuning ${JSON.stringify(build.tunings[0]!.name)}`;
    return refusal(path, [{ path: "--tuning", message: sentence(report.detail), example }], json);
  }
  const text = JSON.stringify(report.value, null, 2);
  if (out !== undefined) {
    const fault = writeInto(out, { "strings.json": `${text}\n` });
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  const status = exitStatus(report.value.tunings.flatMap(({ verdicts }) => verdicts));
  return good(json ? text : stringsText(build.name, report.value), status);
}

function stringsText(name: string, report: StringsReport): string {
  const { touch } = report;
  return [
    wrapped(
      `${name}: strings in ${report.tuning}; wires and outside diameters in inches, hexagonal cores across their flats`,
    ),
    table([
      ["string", "made of", "outside", "weight", "breaks at", "EA", "EI"],
      ...report.strings.map((s) => [
        String(s.string),
        constructionWords(s.construction),
        inches(s.diameterM),
        `${(s.linearDensityKgPerM * 1e3).toPrecision(3)} g/m${s.weightFrom === "given" ? " *" : ""}`,
        newtons(s.breakingForceN),
        `${(s.axialStiffnessN / 1e3).toFixed(1)} kN`,
        `${(s.bendingStiffnessNm2 * 1e6).toFixed(0)} N mm2`,
      ]),
    ]),
    ...(report.strings.some((s) => s.weightFrom === "given")
      ? ["  * weight as the document gives it; the others follow from the wires"]
      : []),
    wrapped(
      `At pitch. Breaks: breaking force over tension. Feel: force for each mm aside at the plucking place, ${millimetresOf(touch.fromSaddleM, 0)} from the saddle, drawn ${millimetresOf(touch.displacementM)}. B: inharmonicity. Q of the string alone, partials 1, 5, 10, 20, and T60 of the first`,
    ),
    table([
      ["string", "note", "tension", "", "breaks", "feel", "B", "Q 1", "Q 5", "Q 10", "Q 20", "T60"],
      ...report.strings.map((s) => [
        String(s.string),
        s.note,
        newtons(s.tensionN),
        kilogramsForce(s.tensionN, 1),
        s.breakMargin.toFixed(1),
        `${(s.feelNPerM / 1e3).toFixed(2)} N/mm`,
        s.inharmonicityB.toExponential(1),
        ...s.loss.partials.map(({ q }) => roughly(q)),
        `${roughly(s.loss.partials[0]!.t60S)} s`,
      ]),
    ]),
    "Tunings",
    table([
      ["tuning", "in all", "", "weakest", "loosest", "verdict"],
      ...report.tunings.map((t) => [
        t.name,
        newtons(t.totalN),
        kilogramsForce(t.totalN),
        extreme(
          t.strings,
          (s) => s.breakMargin,
          (s) => `string ${s.string} breaks at ${s.breakMargin.toFixed(1)} times`,
        ),
        extreme(
          t.strings,
          (s) => s.tensionN,
          (s) => `string ${s.string}, ${newtons(s.tensionN)}`,
        ),
        worstLevel(t.verdicts),
      ]),
    ]),
    ...nearestText(report),
    ...(report.balance === null ? [] : balanceText(report.balance)),
    wrapped("Wires: density and modulus, with one standard deviation, and where each value is from"),
    report.materials
      .map((m) =>
        wrapped(
          `${m.name}: ${m.density.value} kg/m3 within ${percent(m.density.spread)} (${m.density.source}); ${(m.stiffness.value / 1e9).toFixed(0)} GPa within ${percent(m.stiffness.spread)} (${m.stiffness.source})${m.strengthSource === null ? "" : `; strength: ${m.strengthSource}`}`,
          "  ",
          "    ",
        ),
      )
      .join("\n"),
    wrapped(`${report.validity}.`, "  "),
    verdictText(report.verdicts),
  ].join("\n\n");
}

type Tuned = StringsReport["tunings"][number]["strings"][number];

function extreme(rows: readonly Tuned[], of: (row: Tuned) => number, say: (row: Tuned) => string): string {
  return say(rows.reduce((a, b) => (of(b) < of(a) ? b : a)));
}

function worstLevel(verdicts: StringsReport["verdicts"]): string {
  const levels = verdicts.map(({ level }) => level);
  return levels.includes("stop") ? "STOP" : levels.includes("watch") ? "watch" : "good";
}

/** What would work for every string that does not hold. */
function nearestText({ tunings }: StringsReport): string[] {
  const lines = tunings.flatMap(({ name, strings: rows }) =>
    rows.flatMap((row) => {
      if (row.nearest === null) return [];
      const { note, scaleLengthM, construction } = row.nearest;
      const ways = [
        ...(note === null ? [] : [`the note ${note}`]),
        ...(scaleLengthM === null ? [] : [`a scale of ${millimetresOf(scaleLengthM, 0)}`]),
        ...(construction === null ? [] : [constructionWords(construction)]),
      ];
      const works = ways.length === 0 ? "nothing near works" : `works: ${ways.join(", or ")}`;
      return [
        wrapped(
          `${name}: string ${row.string} ${row.state === "breaks" ? "would break" : "would hang slack"} at ${row.note}; ${works}`,
          "  ",
          "    ",
        ),
      ];
    }),
  );
  return lines.length === 0 ? [] : [lines.join("\n")];
}

const reasons = {
  lightest: "lightest that holds",
  heaviest: "heaviest that holds",
  steps: "none nearer",
  breaks: "all break here",
  slack: "all hang slack here",
} as const;

function balanceText(b: BalanceReport): string[] {
  const target = b.kind === "feel" ? `${(b.target / 1e3).toFixed(2)} N/mm` : newtons(b.target);
  return [
    wrapped(
      `A set of equal ${b.kind}, ${target} each, the mean of this one: greatest over least ${b.ratioNow.toFixed(2)} now${b.ratioThen === null ? "" : `, ${b.ratioThen.toFixed(2)} then`}${b.totalN === null ? "" : `, ${kilogramsForce(b.totalN)} in all`} (gauges that are commonly made: common practice, no source)`,
    ),
    table([
      ["string", "note", "made of", "outside", "tension", "breaks", "feel", "off"],
      ...b.strings.map((s) => [
        String(s.string),
        s.note,
        s.construction === null ? "none" : constructionWords(s.construction),
        s.diameterM === null ? "" : inches(s.diameterM),
        s.tensionN === null ? "" : newtons(s.tensionN),
        s.breakMargin === null ? "" : s.breakMargin.toFixed(1),
        s.feelNPerM === null ? "" : `${(s.feelNPerM / 1e3).toFixed(2)} N/mm`,
        `${s.miss === null ? "" : `${s.miss < 0 ? "-" : "+"}${percent(Math.abs(s.miss))} `}${s.why === null ? "" : reasons[s.why]}`.trim(),
      ]),
    ]),
  ];
}

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.01 ? 1 : 0)} %`;

/** Two figures. */
const roughly = (value: number): string => String(Number(value.toPrecision(2)));

const sentence = (text: string): string => `${text[0]!.toUpperCase()}${text.slice(1)}.`;
