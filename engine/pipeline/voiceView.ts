import type { ModeView, RangesView, VoiceView } from "#engine/drawings";
import { responseCurve } from "#engine/response";
import { drawnBoard, drawnMesh, drawnPlan, subtitle } from "./drawnInstrument.ts";
import { loadValidity, stringRows, totalPull } from "./load.ts";
import type { VoiceRanges } from "./ranges/voiceRanges.ts";
import { slotsValidity } from "./slots.ts";
import { tuningVoiceValidity, tuningWords } from "./tuningBoards.ts";
import type { Voice } from "./voice.ts";

/** Modes whose shapes are handed to the report; the others are listed only. */
const shownModes = 24;
/** Points of the response's frequency axis, evenly spaced in pitch from 60 Hz to the end of the modal range. */
const responsePoints = 1200;

/** What the report draws, gathered from the voice; a left-handed instrument is mirrored here. */
export function voiceView(voice: Voice): VoiceView {
  const { build, geometry, body } = voice;
  const { response } = body;
  const shown = Math.min(shownModes, response.drawnCount);
  const { top, back } = body.modes.mesh;
  const topNodes = (top?.nodes.length ?? 0) / 3;
  const backNodes = (back?.nodes.length ?? 0) / 3;
  return {
    title: build.name,
    subtitle: subtitle(build),
    hand: build.body.hand,
    knowledge: voice.knowledge,
    a4: build.tuningReference,
    plan: drawnPlan(build, geometry),
    board: drawnBoard(build, geometry),
    plates: { top: drawnMesh(build, top), back: drawnMesh(build, back) },
    modes: Array.from(
      { length: response.count },
      (_, i): ModeView => ({
        frequencyHz: response.frequency[i]!,
        q: response.q[i]!,
        effectiveMassKg: response.effectiveMass[i]!,
        name: response.name[i]!,
        topMotion: i < shown ? response.topMotion.slice(i * topNodes, (i + 1) * topNodes) : null,
        backMotion: i < shown ? response.backMotion.slice(i * backNodes, (i + 1) * backNodes) : null,
      }),
    ),
    response: responseCurve(response, pitchAxis(60, response.modesToHz, responsePoints)),
    noteBoard: voice.board.noteBoard,
    validToHz: voice.board.validToHz,
    modesToHz: response.modesToHz,
    ranges: voice.ranges === null ? null : rangesView(voice, voice.ranges),
    levelSpreadDb: voice.board.evenness.levelSpreadDb,
    upperThirdShare: voice.activeTop.total,
    otherTunings: tuningWords(voice.tunings),
    load: {
      strings: stringRows(voice.strings),
      totalN: totalPull(voice.strings),
      bridgeRotation: body.load.figures.bridgeRotation,
      saddleRise: body.load.figures.saddleRise,
    },
    verdicts: voice.verdicts,
    limits: [
      ...modelLimits,
      `Levels are foreseen to ${Math.round(voice.board.validToHz)} Hz, and modes to ${Math.round(response.modesToHz)} Hz; notes outside are hatched.`,
      `Load: ${loadValidity}.`,
      `Slots: ${slotsValidity}.`,
      ...(voice.tunings.length === 0 ? [] : [tuningVoiceValidity]),
      ...voice.warnings.map(({ detail }) => `${detail}.`),
    ],
    stamp: voice.stamp,
  };
}

/** Ranges by mode and by row, found by what they belong to; the five most telling measurements. */
function rangesView({ body, board }: Voice, ranges: VoiceRanges): RangesView {
  const sigma = new Map(ranges.ranges.map((r) => [`${r.kind} ${r.of}`, r.sigma]));
  const { count, name } = body.response;
  return {
    modes: Array.from({ length: count }, (_, i) => {
      const of = name[i] ?? `mode ${i + 1}`;
      const [frequencyHz, q] = [sigma.get(`frequencyHz ${of}`), sigma.get(`q ${of}`)];
      return frequencyHz === undefined || q === undefined ? null : { frequencyHz, q };
    }),
    notes: board.noteBoard.map(({ string, fret }) => {
      const own = (kind: string): number | null =>
        sigma.get(`${kind} string ${string}, fret ${fret}`) ?? null;
      return { levelDb: own("levelDb"), decayS: own("decayS"), wolfIndex: own("wolfIndex") };
    }),
    worth: ranges.worth.slice(0, 5).map(({ words }) => words),
    samples: ranges.modeSamples,
  };
}

const modelLimits: readonly string[] = [
  "Top, back, sides, blocks, neck and rods are one elastic structure, free in space, with perfect joints; what the strings' pull does to its stiffness is in its modes.",
  "Air inside by finite elements, air outside by a boundary integral over the body alone: no room, no hands, no lap.",
  "Other strings are damped; losses of wood are one value by species and direction, the same at every frequency.",
];

/** Frequencies evenly spaced in pitch. */
function pitchAxis(from: number, to: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => from * (to / from) ** (i / (count - 1)));
}
