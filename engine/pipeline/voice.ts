import type { Build } from "#engine/instrument";
import { type NoteBoard, type NoteBoardInput, type NoteRow, noteBoard } from "#engine/notes";
import { done, type Outcome, type Warning } from "#engine/numerics";
import { crownView, type ThirdShare, upperThirdShare } from "#engine/response";
import { fairness, type Knowledge, markMeant, type Verdict } from "#engine/verdicts";
import { type BodySettings, defaultBodySettings } from "./body/bodySettings.ts";
import type { WholeBody } from "./body/coupledBody.ts";
import type { StageCrew } from "./body/jobs.ts";
import { wholeBody } from "./body/wholeBody.ts";
import { farEnds } from "./farEnds.ts";
import type { InstrumentGeometry } from "./geometry.ts";
import { boardStrings } from "./live/boardStrings.ts";
import { loadVerdicts } from "./load.ts";
import type { VoiceRanges } from "./ranges/voiceRanges.ts";
import type { FigureKind } from "./ranges/voiceSamples.ts";
import { type Stages, unwatched } from "./stages.ts";
import { type Stamp, stamp } from "./stamp.ts";
import type { SetString } from "./stringSet.ts";
import { type TuningVoice, tuningBoards } from "./tuningBoards.ts";
import { unmarked } from "./unmarked.ts";
import { curveFairness, knowledgeOf, voiceVerdicts } from "./voiceVerdicts.ts";

/** Everything that the voice of an instrument was computed to be: the JSON, the report and the app draw from it. */
export interface Voice {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  readonly body: WholeBody;
  readonly board: NoteBoard;
  /** The document's further tunings on the same body. */
  readonly tunings: readonly TuningVoice[];
  readonly activeTop: ThirdShare;
  readonly verdicts: readonly Verdict[];
  readonly knowledge: Knowledge;
  /** What the spread of every uncertain value does to the figures; null: not asked for (`withRanges`). */
  readonly ranges: VoiceRanges | null;
  readonly settings: BodySettings;
  readonly warnings: readonly Warning[];
  readonly stamp: Stamp;
}

/** The JSON contract of `voice`. */
export interface VoiceReport {
  readonly bodyModes: readonly {
    readonly frequencyHz: number;
    readonly q: number;
    /** 16th and 84th percentile from the spread of the uncertain values, where they were sampled. */
    readonly frequencyRangeHz: readonly [low: number, high: number] | null;
    readonly qRange: readonly [low: number, high: number] | null;
    readonly effectiveMassKg: number | null;
    readonly name: string | null;
    /** The mode that nearly had the same name: its place in this list, and its score over the winner's. */
    readonly rival: { readonly index: number; readonly ratio: number } | null;
    readonly volumeVelocityShareByThird: readonly [upper: number, middle: number, lower: number];
    readonly holeFlowRatio: number;
    /** False above `modesToHz`, where single modes are known only statistically. */
    readonly foreseen: boolean;
  }[];
  readonly noteBoard: readonly NoteRow[];
  readonly evenness: NoteBoard["evenness"];
  /** The document's further tunings, on the body as the first one's pull stresses it. */
  readonly tunings: readonly TuningVoice[];
  readonly activeTop: {
    readonly upperThirdShare: number;
    readonly upperThirdShareByThirdOctave: ThirdShare["byThirdOctave"];
  };
  readonly validToHz: number;
  readonly decayValidToHz: number;
  readonly modesToHz: number;
  readonly rigidWallAirHz: WholeBody["response"]["rigidWallAir"];
  /** What it was computed with: shell nodes, modes of structure and air, outer panels and frequencies. */
  readonly counts: WholeBody["counts"];
  readonly knowledge: Knowledge;
  readonly ranges: VoiceRanges | null;
  readonly verdicts: readonly Verdict[];
  readonly warnings: readonly Warning[];
  readonly stamp: Stamp;
}

/** The main job: from the build and its geometry to body, load, every note on the board, and verdicts. */
export async function computeVoice(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  crew: StageCrew,
  settings: BodySettings = defaultBodySettings,
  stages: Stages = unwatched,
): Promise<Outcome<Voice>> {
  const body = await wholeBody(build, geometry, strings, settings, crew, stages);
  if (!body.ok) return body;
  const { response } = body.value;
  const far = farEnds(build, geometry, response);
  if (!far.ok) return far;
  const watching = stages.stage("every note on the board", 0.92, 0.98);
  const notes: NoteBoardInput = {
    strings: boardStrings(geometry, strings),
    bodies: strings.map((_, crown) => crownView(response, crown)),
    farEnds: far.value,
    frets: build.board.frets,
    validToHz: response.validToHz,
    decayValidToHz: response.modesToHz,
    a4: build.tuningReference,
    meanMobility: response.meanMobility,
  };
  const board = noteBoard(notes, watching);
  if (!board.ok) return board;
  const tunings = tuningBoards(build, response, notes, board.value, stages.stage("other tunings", 0.98, 1));
  if (!tunings.ok) return tunings;
  const knowledge = knowledgeOf(build);
  const verdicts = markMeant(
    [
      ...loadVerdicts(build, strings, body.value.load),
      fairness(curveFairness(geometry.plan)),
      ...voiceVerdicts(build, response, board.value, knowledge),
    ],
    build.meant,
  );
  return done({
    build,
    geometry,
    strings,
    body: body.value,
    board: board.value,
    tunings: tunings.value,
    activeTop: upperThirdShare(response),
    verdicts: verdicts.verdicts,
    knowledge,
    ranges: null,
    settings,
    warnings: distinct([
      ...body.warnings,
      ...board.warnings,
      ...verdicts.unknown.map((id) => ({ code: "meant-unknown", detail: `no verdict is called "${id}"` })),
    ]),
    stamp: stamp("voice", unmarked(build), settings),
  });
}

/** Each warning once: two workers may come upon the same. */
function distinct(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((w) => [`${w.code} ${w.detail}`, w])).values()];
}

/**
 * The voice with a range on every figure: its body is reduced, and its uncertain values are sampled on the reduced model, in
 * a worker where there is one. Fails as `prepareLive` and `voiceSamples` do.
 */
export async function withRanges(
  voice: Voice,
  crew: StageCrew,
  stages: Stages = unwatched,
): Promise<Outcome<Voice>> {
  const { build, geometry, strings, settings, knowledge, board } = voice;
  const { parts, made } = voice.body;
  const input = { build, geometry, strings, settings, body: { parts, made }, board, knowledge };
  const ranges = await crew.run("ranges", input, stages.stage("ranges", 0, 1));
  return ranges.ok ? done({ ...voice, ranges: ranges.value }) : ranges;
}

export function voiceReport(voice: Voice): VoiceReport {
  const { response } = voice.body;
  const known = new Map(voice.ranges?.ranges.map((r) => [`${r.kind} ${r.of}`, [r.low, r.high] as const]));
  const rangeOf = (kind: FigureKind, of: string) => known.get(`${kind} ${of}`) ?? null;
  const rangedRow = (row: NoteRow): NoteRow => {
    const of = `string ${row.string}, fret ${row.fret}`;
    const [level, decay, wolf] = (["levelDb", "decayS", "wolfIndex"] as const).map((kind) =>
      rangeOf(kind, of),
    );
    return {
      ...row,
      levelLowDb: level?.[0] ?? null,
      levelHighDb: level?.[1] ?? null,
      decayLowS: decay?.[0] ?? null,
      decayHighS: decay?.[1] ?? null,
      wolfLow: wolf?.[0] ?? null,
      wolfHigh: wolf?.[1] ?? null,
    };
  };
  return {
    bodyModes: Array.from({ length: response.count }, (_, i) => ({
      frequencyHz: response.frequency[i]!,
      q: response.q[i]!,
      frequencyRangeHz: rangeOf("frequencyHz", response.name[i] ?? `mode ${i + 1}`),
      qRange: rangeOf("q", response.name[i] ?? `mode ${i + 1}`),
      effectiveMassKg: response.effectiveMass[i]!,
      name: response.name[i]!,
      rival: response.rival[i] ?? null,
      volumeVelocityShareByThird: [
        response.volumeVelocityShareByThird[3 * i]!,
        response.volumeVelocityShareByThird[3 * i + 1]!,
        response.volumeVelocityShareByThird[3 * i + 2]!,
      ],
      holeFlowRatio: response.holeFlowRatio[i]!,
      foreseen: response.frequency[i]! <= response.modesToHz,
    })),
    noteBoard: voice.ranges === null ? voice.board.noteBoard : voice.board.noteBoard.map(rangedRow),
    evenness: voice.board.evenness,
    tunings: voice.tunings,
    activeTop: {
      upperThirdShare: voice.activeTop.total,
      upperThirdShareByThirdOctave: voice.activeTop.byThirdOctave,
    },
    validToHz: voice.board.validToHz,
    decayValidToHz: voice.board.decayValidToHz,
    modesToHz: response.modesToHz,
    rigidWallAirHz: response.rigidWallAir,
    counts: voice.body.counts,
    knowledge: voice.knowledge,
    ranges: voice.ranges,
    verdicts: voice.verdicts,
    warnings: voice.warnings,
    stamp: voice.stamp,
  };
}
