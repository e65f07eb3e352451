import { setupCards } from "#engine/drawings";
import {
  neckReport,
  type SetupReport,
  type SetupTuning,
  setupCardsView,
  setupCautions,
  setupReport,
} from "#engine/pipeline";
import { exitStatus } from "#engine/verdicts";
import { type Answer, good, outFault, refusal, writeInto } from "./answer.ts";
import { engineFault } from "./engineFault.ts";
import type { OpenInstrument } from "./instrument.ts";
import { cautionText } from "./marginText.ts";
import { neckText } from "./neckText.ts";
import { millimetresOf, newtons, table, verdictText, wrapped } from "./text.ts";
import type { VerbOptions } from "./verbOptions.ts";

/** `fairbout setup`: heights of neck, saddle and strings, buzz at every fret, reach. */
export function setup(instrument: OpenInstrument, { json = false, out }: VerbOptions): Answer {
  const { build, geometry, strings, path } = instrument;
  const barred = out === undefined ? null : outFault(out);
  if (barred !== null) return refusal(out ?? "", [{ path: "--out", message: barred }], json);
  const report = setupReport(build, geometry, strings);
  if (!report.ok) return refusal(path, [engineFault(report)], json);
  const neck = neckReport(build, geometry, strings);
  if (!neck.ok) return refusal(path, [engineFault(neck)], json);
  const text = JSON.stringify(
    { ...report.value, neckUnderStrings: neck.value, cautions: setupCautions },
    null,
    2,
  );
  if (out !== undefined) {
    const cards = setupCards(setupCardsView(build, report.value));
    const fault = writeInto(out, { "setup.json": `${text}\n`, "cards.html": cards });
    if (fault !== null) return refusal(out, [{ path: "--out", message: fault }], json);
  }
  const words = [
    setupText(build.name, report.value),
    neckText(neck.value),
    verdictText(neck.value.verdicts),
    cautionText(setupCautions),
    ...(out === undefined ? [] : [`The cards to print are in ${out}/cards.html`]),
  ];
  return good(
    json ? text : words.join("\n\n"),
    exitStatus([...report.value.verdicts, ...neck.value.verdicts]),
  );
}

function setupText(name: string, report: SetupReport): string {
  const { neck, saddle, reach } = report;
  const edge = neck.straightedgeOverBridgeM;
  return [
    `${name}: setup, the saddle set to give the wanted action`,
    `  neck pitch           ${neck.pitchDeg.toFixed(2)} degrees, joined at fret ${neck.joinFret}
  board over the top   ${millimetresOf(neck.boardHeightM)} at the body's end, ${millimetresOf(neck.boardThicknessM)} thick, frets ${millimetresOf(neck.fretHeightM)}
  straightedge         ${edge < 0 ? `meets the bridge ${millimetresOf(-edge, 2)} below its upper face` : `clears the bridge's upper face by ${millimetresOf(edge, 2)}`}
  saddle, treble       asked ${millimetresOf(saddle.trebleAskedM)}, stated ${millimetresOf(saddle.trebleStatedM)}: ${moved(saddle.trebleMoveM)}
  saddle, bass         asked ${millimetresOf(saddle.bassAskedM)}, stated ${millimetresOf(saddle.bassStatedM)}: ${moved(saddle.bassMoveM)}
  relief               ${millimetresOf(neck.reliefM, 2)}
  reach                fret ${reach.fret} of ${reach.lastFret}, give or take one (common practice, no source)`,
    wrapped(
      "Strings at the bridge: height over the top; what the saddle must change against what is stated; the action over fret 12 without that change",
    ),
    table([
      ["string", "note", "height", "change", "unchanged", "break angle"],
      ...report.strings.map((s) => [
        String(s.string),
        s.note,
        millimetresOf(s.heightAtBridgeM),
        signed(s.saddleMoveM, 2),
        millimetresOf(s.actionAsStatedM),
        `${s.breakAngleDeg.toFixed(0)} degrees`,
      ]),
    ]),
    "Action over each fret in mm, relief and fall-away in it (nut: over the crowns carried on to it)",
    actionTable(report),
    ...boardText(report),
    ...report.tunings.flatMap((tuning) => buzzText(tuning)),
    "Relief, the action kept: how a normal pluck comes nearest to a crown (below 0: into it)",
    table([
      ["relief", "nearest", "notes that strike"],
      ...report.reliefs.map((r) => [
        millimetresOf(r.reliefM, 2),
        signed(r.leastClearanceM, 2),
        String(r.buzzingNotes),
      ]),
    ]),
    ...slotText(report),
    ...(report.assumed.length === 0
      ? []
      : [
          `Taken as is usual, where the document says nothing:\n${report.assumed
            .map((a) => wrapped(`${a.path}: ${a.value} (${a.because})`, "  ", "    "))
            .join("\n")}`,
        ]),
    wrapped(`${report.validity}.`, "  "),
    verdictText(report.verdicts),
  ].join("\n\n");
}

/** One row a fret, the lowest string first as on the board; in mm, so that six strings fit beside it. */
function actionTable({ strings }: SetupReport): string {
  const across = [...strings].reverse();
  return table([
    ["fret", ...across.map((s) => `string ${s.string}`)],
    ...strings[0]!.actionM.map((_, fret) => [
      fret === 0 ? "nut" : String(fret),
      ...across.map((s) => bareMillimetres(s.actionM[fret]!)),
    ]),
  ]);
}

/** How far the board lies below the line of its middle; nothing for a flat one. */
function boardText({ strings }: SetupReport): string[] {
  if (strings.every((s) => s.boardM.every((z) => Math.abs(z) < 5e-6))) return [];
  const across = [...strings].reverse();
  const last = strings[0]!.boardM.length - 1;
  const shown = [0, 5, 12, last].filter((fret, i, all) => fret <= last && all.indexOf(fret) === i);
  return [
    "Board below the straight line of its middle in mm, by its cross radius and its fall",
    table([
      ["fret", ...across.map((s) => `string ${s.string}`)],
      ...shown.map((fret) => [
        fret === 0 ? "nut" : String(fret),
        ...across.map((s) => bareMillimetres(-s.boardM[fret]!)),
      ]),
    ]),
  ];
}

function buzzText(tuning: SetupTuning): string[] {
  return [
    wrapped(
      `${tuning.name}: frets (0 = open) at which the plucked string strikes a crown ahead, and the action over fret 12 that clears a normal pluck`,
    ),
    table([
      ["string", "note", "soft", "normal", "hard", "clears from"],
      ...tuning.strings.map((s) => {
        const normal = s.plucks.find(({ pluck }) => pluck === "normal")!;
        return [
          String(s.string),
          `${s.note} ${newtons(s.tensionN)}`,
          ...s.plucks.map(({ buzzingFrets }) => runs(buzzingFrets)),
          normal.leastActionM === null ? "any" : millimetresOf(normal.leastActionM),
        ];
      }),
    ]),
  ];
}

/** Where each tuning wants the saddle's slot. */
function slotText({ tunings }: SetupReport): string[] {
  const rows = tunings.flatMap(({ name, saddleSlot: slot }) =>
    slot === null
      ? []
      : [
          [
            name,
            millimetresOf(slot.straightSpanM),
            millimetresOf(slot.slantedSpanM),
            millimetresOf(slot.roomM),
            millimetresOf(slot.slantedMoveM),
            `${slot.slantDeg.toFixed(1)} degrees`,
          ],
        ],
  );
  if (rows.length === 0) return [];
  return [
    wrapped(
      "Saddle slot: what the strings' places span along the theoretical saddle line and along the best slant, the room in the slot, how far back its middle, how much further back at the bass end",
    ),
    table([["tuning", "straight", "slanted", "room", "back", "slant"], ...rows]),
  ];
}

/** "0 to 7, 9": frets in a row put together. */
function runs(frets: readonly number[]): string {
  if (frets.length === 0) return "none";
  const words: string[] = [];
  let from = frets[0]!;
  frets.forEach((fret, i) => {
    if (frets[i + 1] === fret + 1) return;
    words.push(from === fret ? String(fret) : `${from} to ${fret}`);
    from = frets[i + 1] ?? fret;
  });
  return words.join(", ");
}

function moved(move: number): string {
  if (Math.abs(move) < 5e-5) return "as it is";
  return `${millimetresOf(Math.abs(move), 2)} ${move > 0 ? "higher" : "lower"}`;
}

const signed = (length: number, decimals: number): string =>
  `${length > 0 ? "+" : ""}${millimetresOf(length, decimals)}`;

const bareMillimetres = (length: number): string => (length * 1e3).toFixed(2).replace(/^-0\.00$/, "0.00");
