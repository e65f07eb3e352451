import { isDead, isWolf, type NoteRow } from "#engine/notes";
import {
  centsBetween,
  frequencySigma,
  honestAccuracy,
  nearestNote,
  sayAngle,
  sayForce,
  sayFrequency,
  sayList,
  sayPitch,
} from "#engine/verdicts";
import { middleLevel } from "./noteBoardSheet.ts";
import type { ModeView, VoiceView } from "./voiceView.ts";

/** One thing that the design implies, in the words of the shop. */
export interface ShopWord {
  readonly topic: string;
  readonly sentences: readonly string[];
}

/** What the design implies, in the order a maker asks: load first, then the voice, then single notes. */
export function shopWords(view: VoiceView): readonly ShopWord[] {
  return [
    { topic: "Pull of the strings", sentences: pull(view) },
    ...bridge(view),
    { topic: "Where the body speaks", sentences: mainModes(view) },
    { topic: "Loud and quiet", sentences: loudAndQuiet(view) },
    { topic: "Wolf notes", sentences: wolves(view) },
    { topic: "Dead notes", sentences: deadNotes(view) },
    { topic: "In other tunings", sentences: view.otherTunings ?? [] },
    ...activeTop(view),
  ].filter((word) => word.sentences.length > 0);
}

/** How hard the strings pull, all together, hardest and softest. */
export function pull({ load }: Pick<VoiceView, "load">): readonly string[] {
  const { strings } = load;
  if (strings.length === 0) return [];
  const hardest = strings.reduce((a, b) => (b.tensionN > a.tensionN ? b : a));
  const softest = strings.reduce((a, b) => (b.tensionN < a.tensionN ? b : a));
  return [
    `${strings.length} strings pull ${sayForce(load.totalN)} together.`,
    `The hardest is string ${hardest.string} (${hardest.note}) at ${hardest.tensionN.toFixed(0)} N, the softest string ${softest.string} (${softest.note}) at ${softest.tensionN.toFixed(0)} N.`,
  ];
}

/** What the pull does to the bridge; nothing where it was not computed. */
export function bridge({ load }: Pick<VoiceView, "load">): readonly ShopWord[] {
  const { bridgeRotation } = load;
  if (bridgeRotation === null) return [];
  const spread = honestAccuracy("catalogue").bridgeRotation;
  const size = Math.abs(bridgeRotation);
  const way = bridgeRotation >= 0 ? "toward the nut" : "toward the tail";
  return [
    {
      topic: "What the bridge does",
      sentences: [
        `Tuned to pitch it rolls ${sayAngle(size)} ${way}, give or take ${(spread * 100).toFixed(0)} %; 1 to 2 degrees is usual (common practice).`,
        "This is the elastic part, with perfect joints assumed; months under load add to it.",
      ],
    },
  ];
}

function mainModes({ modes, knowledge, a4 }: VoiceView): readonly string[] {
  const does: Readonly<Record<string, string>> = {
    "main air": "The air breathes through the hole at",
    "main top": "The top moves as one at",
    "main back": "The back moves as one at",
  };
  const sentences = Object.entries(does).flatMap(([name, words]) => {
    const mode = modes.find((m) => m.name === name);
    return mode === undefined
      ? []
      : [`${words} ${sayPitch(mode.frequencyHz, a4)}, ${sayRange(mode, knowledge, a4)}.`];
  });
  if (sentences.length === 0) return [];
  const known =
    knowledge === "catalogue"
      ? "The ranges are one standard deviation with wood from the catalogue: weigh, bend and knock the boards, and they halve."
      : knowledge === "board measured"
        ? "The ranges are one standard deviation with the boards measured; knocking on the box narrows them again."
        : "The ranges are one standard deviation after knocking on the box.";
  return [...sentences, known];
}

/** "likely between 85 Hz and 92 Hz (E2 to F#2)". */
function sayRange(mode: ModeView, knowledge: VoiceView["knowledge"], a4 = 440): string {
  const sigma = frequencySigma(mode.name, knowledge);
  const [low, high] = [mode.frequencyHz * (1 - sigma), mode.frequencyHz * (1 + sigma)];
  const [from, to] = [nearestNote(low, a4).note, nearestNote(high, a4).note];
  const notes = from === to ? from : `${from} to ${to}`;
  return `likely between ${sayFrequency(low)} and ${sayFrequency(high)} (${notes})`;
}

/** A run of neighbouring pitches that are all louder, or all quieter, than the board's middle. */
interface Region {
  readonly from: string;
  readonly to: string;
  readonly overDb: number;
  readonly place: string;
}

const standOutDb = 3;

/**
 * Stretches of at least two semitones whose mean level, over all places where the note lies and its two neighbours,
 * stands 3 dB (the accuracy of one note) or more from the middle of the board. Strongest first.
 */
export function levelRegions(rows: readonly NoteRow[]): {
  readonly loud: readonly Region[];
  readonly quiet: readonly Region[];
} {
  const middle = middleLevel(rows);
  const byPitch = new Map<number, NoteRow[]>();
  for (const row of rows) {
    if (row.levelDb === null) continue;
    const pitch = Math.round(centsBetween(440, row.frequencyHz) / 100);
    byPitch.set(pitch, [...(byPitch.get(pitch) ?? []), row]);
  }
  const mean = (pitch: number): number => {
    const near = [pitch - 1, pitch, pitch + 1].flatMap((p) => byPitch.get(p) ?? []);
    return near.reduce((sum, row) => sum + row.levelDb!, 0) / near.length - middle;
  };
  const pitches = [...byPitch.keys()].sort((a, b) => a - b);
  const runs = (way: 1 | -1): readonly Region[] => {
    const found: number[][] = [];
    for (const pitch of pitches) {
      if (way * mean(pitch) < standOutDb) continue;
      const last = found[found.length - 1];
      if (last !== undefined && last[last.length - 1] === pitch - 1) last.push(pitch);
      else found.push([pitch]);
    }
    return found
      .filter((run) => run.length >= 2)
      .map((run): Region => {
        const first = lowestString(byPitch.get(run[0])!);
        return {
          from: first.note,
          to: byPitch.get(run[run.length - 1])![0].note,
          overDb: run.reduce((sum, p) => sum + mean(p), 0) / run.length,
          place: `on string ${first.string} ${first.fret === 0 ? "open and up" : `from fret ${first.fret}`}`,
        };
      })
      .sort((a, b) => Math.abs(b.overDb) - Math.abs(a.overDb));
  };
  return { loud: runs(1), quiet: runs(-1) };
}

function lowestString(rows: readonly NoteRow[]): NoteRow {
  return rows.reduce((a, b) => (b.string > a.string ? b : a));
}

function loudAndQuiet({ noteBoard, validToHz, levelSpreadDb }: VoiceView): readonly string[] {
  const foreseen = noteBoard.filter((row) => row.levelDb !== null);
  if (foreseen.length === 0) return ["No note's level is foreseen."];
  const { loud, quiet } = levelRegions(noteBoard);
  const say = (regions: readonly Region[]) =>
    sayList(
      regions.map(
        (r) =>
          `${r.from} to ${r.to} (${Math.abs(r.overDb).toFixed(0)} dB ${r.overDb > 0 ? "over" : "under"} the board's middle, ${r.place})`,
      ),
      3,
    );
  return [
    ...(loud.length > 0 ? [`Loud: ${say(loud)}.`] : []),
    ...(quiet.length > 0 ? [`Quiet: ${say(quiet)}.`] : []),
    ...(loud.length === 0 && quiet.length === 0
      ? [`No stretch of the board stands out by more than ${standOutDb} dB.`]
      : []),
    ...(levelSpreadDb === null ? [] : [`To fret 15 the notes spread over ${levelSpreadDb.toFixed(0)} dB.`]),
    `One note's level is known to 3 dB, 5 near a resonance; ${foreseen.length} of ${noteBoard.length} notes lie under ${validToHz.toFixed(0)} Hz, where a level is foreseen at all.`,
  ];
}

/** "E3 on string 4 (fret 4)", with the partial that meets the body if it is not the first. */
function placeAndPartial(row: NoteRow): string {
  const partial = row.blame?.partial ?? 1;
  return partial === 1 ? place(row) : `${place(row)} by its partial ${partial}`;
}

function place(row: NoteRow): string {
  return `${row.note} on string ${row.string} (${row.fret === 0 ? "open" : `fret ${row.fret}`})`;
}

function wolves({ noteBoard, modes }: VoiceView): readonly string[] {
  const known = noteBoard.filter((row) => row.wolfIndex !== null);
  if (known.length === 0)
    return ["No wolf note can be foreseen or ruled out: the model does not reach these notes."];
  const found = known.filter(isWolf).sort((a, b) => b.wolfIndex! - a.wolfIndex!);
  if (found.length === 0)
    return [`None of the ${known.length} notes foreseen couples strongly enough to beat.`];
  const sentences = [...byBlame(found)].map(([index, rows]) => {
    const mode = modes[index];
    const notes = sayList(rows.map(placeAndPartial), 4);
    if (mode === undefined) return `${notes} may beat or stutter.`;
    const name =
      mode.name === null
        ? `The body mode at ${sayFrequency(mode.frequencyHz)}`
        : `The ${mode.name} mode at ${sayFrequency(mode.frequencyHz)}`;
    return `${name} may make a wolf of ${notes}.`;
  });
  return [
    ...atMost(sentences),
    `The highest wolf index is ${found[0].wolfIndex!.toFixed(1)}, where 1 is the threshold; a wolf is foreseen within one fret in 7 cases of 10.`,
  ];
}

function deadNotes({ noteBoard, modes }: VoiceView): readonly string[] {
  const known = noteBoard.filter((row) => row.deadIndex !== null);
  if (known.length === 0)
    return ["No dead note can be foreseen or ruled out: the model does not reach these notes."];
  const found = known.filter(isDead).sort((a, b) => b.deadIndex! - a.deadIndex!);
  if (found.length === 0)
    return [`None of the ${known.length} notes foreseen dies in half the time of its neighbours.`];
  const sentences = [...byBlame(found)].map(([index, rows]) => {
    const mode = modes[index];
    const notes = sayList(
      rows.map((row) => `${place(row)}${row.decayS === null ? "" : ` in ${row.decayS.toFixed(1)} s`}`),
      4,
    );
    const near =
      mode === undefined ? "" : `, near the ${mode.name ?? "body"} mode at ${sayFrequency(mode.frequencyHz)}`;
    return `${notes} ${rows.length === 1 ? "dies" : "die"} at least twice as fast as the notes around${near}.`;
  });
  return [
    ...atMost(sentences),
    "Nut and frets yield with the neck in this model, without the hand that holds it; its modes are known to 5 to 10 %, so a dead spot that it makes may lie one or two frets away.",
  ];
}

/** The rows gathered by the body mode they are blamed on; -1 for none. */
function byBlame(rows: readonly NoteRow[]): ReadonlyMap<number, readonly NoteRow[]> {
  const gathered = new Map<number, NoteRow[]>();
  for (const row of rows) {
    const mode = row.blame?.modeIndex ?? -1;
    gathered.set(mode, [...(gathered.get(mode) ?? []), row]);
  }
  return gathered;
}

/** The first few sentences, and where to find the rest. */
function atMost(sentences: readonly string[]): readonly string[] {
  const most = 3;
  if (sentences.length <= most) return sentences;
  return [...sentences.slice(0, most), "The rest stand in the table of notes."];
}

function activeTop({ upperThirdShare }: VoiceView): readonly ShopWord[] {
  if (upperThirdShare === null) return [];
  return [
    {
      topic: "How much of the top works",
      sentences: [
        `Of the top's motion between 80 Hz and 1 kHz, ${(upperThirdShare * 100).toFixed(0)} % happens in its upper third, toward the neck.`,
      ],
    },
  ];
}
