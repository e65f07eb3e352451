/**
 * The voice of a guitar made up for the tests of this module (drawnGuitar.fixture.ts): its modes, notes and
 * figures are invented formulas, not results. It never leaves the tests.
 */
import type { NoteRow } from "#engine/notes";
import {
  bridgeRotation,
  evenness,
  mainModePlacing,
  markMeant,
  saddleFit,
  stringStrength,
  totalLoad,
  type Verdict,
  wolfRisk,
} from "#engine/verdicts";
import { bodyLength, drawnPlan, halfWidth, mesh, placedBoard } from "./drawnGuitar.fixture.ts";
import type { ModeView, PlateMesh, VoiceView } from "./voiceView.ts";

const modeTable: readonly (readonly [number, number, string | null, number | null, number, number])[] = [
  [88.4, 32, "main air", 0.41, 1, 0],
  [171.2, 41, "main top", 0.13, 1, 0],
  [196.5, 38, null, 3.2, 1, 1],
  [213.8, 52, "main back", 0.48, 1, 0],
  [262.3, 55, null, 0.9, 2, 0],
  [301.9, 61, null, 2.4, 2, 1],
  [344.6, 47, null, 0.7, 1, 2],
  [402.1, 58, null, 15.2, 3, 0],
  [455.3, 49, null, null, 2, 2],
];

function shape(plate: PlateMesh, along: number, across: number, gain: number): Float64Array {
  const out = new Float64Array(plate.nodes.length / 2);
  for (let n = 0; n < out.length; n++) {
    const s = plate.nodes[2 * n] / bodyLength;
    const t = plate.nodes[2 * n + 1] / Math.max(1e-6, halfWidth(plate.nodes[2 * n]));
    const bend = s ** 0.72;
    out[n] =
      gain *
      Math.sin(Math.PI * along * bend) *
      (1 - t * t) *
      Math.cos((Math.PI * across * (t - 0.08)) / 1.4 + (across === 1 ? Math.PI / 2 : 0)) *
      Math.sqrt(Math.max(0, 4 * s * (1 - s)));
  }
  return out;
}

const openStrings: readonly (readonly [number, string, number, number, number])[] = [
  [1, "D4", 293.665, 96, 171],
  [2, "A3", 220, 98, 175],
  [3, "F3", 174.614, 132, 243],
  [4, "C3", 130.813, 140, 290],
  [5, "G2", 97.999, 133, 330],
  [6, "D2", 73.416, 121, 402],
];
const names = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];
const noteOf = (f: number) => {
  const midi = Math.round(69 + 12 * Math.log2(f / 440));
  return `${names[midi % 12]}${Math.floor(midi / 12) - 1}`;
};

function resonance(
  f: number,
  modes: readonly (readonly [number, number, string | null, number | null, number, number])[],
): number {
  let [re, im] = [0, 0];
  for (const [f0, q, , mass] of modes) {
    if (mass === null) continue;
    const a = f0 * f0 - f * f;
    const b = (f * f0) / q;
    re += (f * b) / mass / (a * a + b * b);
    im += (f * a) / mass / (a * a + b * b);
  }
  return Math.hypot(re, im) / (2 * Math.PI);
}

function rows(validToHz: number): NoteRow[] {
  return openStrings.flatMap(([string, , open]) =>
    Array.from({ length: 21 }, (_, fret): NoteRow => {
      const frequencyHz = open * 2 ** (fret / 12);
      const nearest = modeTable.reduce((a, b) =>
        Math.abs(b[0] / frequencyHz - 1) < Math.abs(a[0] / frequencyHz - 1) ? b : a,
      );
      const off = 1200 * Math.log2(frequencyHz / nearest[0]);
      const wolfIndex = 1.6 / Math.sqrt(nearest[3] ?? 50) / 2.4 / Math.hypot(1, off / 30);
      const foreseen = frequencyHz <= validToHz;
      return {
        string,
        fret,
        note: noteOf(frequencyHz),
        frequencyHz,
        levelDb: foreseen ? 78 + 20 * Math.log10(resonance(frequencyHz, modeTable) / 0.01) : null,
        levelDbA: null,
        levelRangeDb: foreseen ? 3 : null,
        decayS: frequencyHz < 460 ? 6 / (1 + 3 * wolfIndex) / (1 + frequencyHz / 400) : null,
        decayRangeFactor: 1.5,
        wolfIndex: frequencyHz < 460 ? wolfIndex : null,
        deadIndex: frequencyHz < 460 ? 0.9 + 0.9 * wolfIndex * (fret % 5 === 2 ? 1.8 : 1) : null,
        verdict: wolfIndex >= 1 ? "watch" : "good",
        foreseen,
        reason: foreseen ? null : "above 300 Hz",
        blame:
          frequencyHz < 460
            ? { modeIndex: modeTable.indexOf(nearest), partial: 1, centsOff: off, couplingAtCoincidence: 1 }
            : null,
        partials: [],
      };
    }),
  );
}

export function fabricatedView(): VoiceView {
  const plates = { top: mesh(true), back: mesh(false) };
  const validToHz = 300;
  const noteBoard = rows(validToHz);
  const modes: ModeView[] = modeTable.map(([frequencyHz, q, name, effectiveMassKg, along, across]) => ({
    frequencyHz,
    q,
    name,
    effectiveMassKg,
    topMotion: shape(plates.top, along, across, name === "main back" ? 0.35 : 1),
    backMotion: shape(
      plates.back,
      along,
      across,
      name === "main back" ? -1 : name === "main air" ? 0.3 : -0.2,
    ),
  }));
  const frequency = Float64Array.from({ length: 700 }, (_, i) => 50 * 20 ** (i / 699));
  const mobility = frequency.map((f) => resonance(f, modeTable));
  const levels = noteBoard
    .filter((n) => n.levelDb !== null && n.fret <= 15)
    .map((n) => n.levelDb!)
    .sort((a, b) => a - b);
  const levelSpreadDb = levels[Math.floor(0.95 * levels.length)] - levels[Math.floor(0.05 * levels.length)];
  const played = openStrings.map(([, note, f]) => ({ note, frequency: f, role: "open string" as const }));
  const strings = openStrings.map(([string, note, , tension, breakingForce]) => ({
    string,
    note,
    tension,
    breakingForce,
  }));
  const found: Verdict[] = [
    stringStrength(strings),
    bridgeRotation(0.041),
    saddleFit({ stringHeight: [0.0122, 0.0131], bridgeHeight: 0.009, slotDepth: 0.0055 }),
    totalLoad(strings.map((s) => s.tension)),
    mainModePlacing({ name: "main air", frequency: 88.4, knowledge: "catalogue", played }),
    mainModePlacing({ name: "main top", frequency: 171.2, knowledge: "catalogue", played }),
    wolfRisk(
      noteBoard
        .filter((n) => n.wolfIndex !== null)
        .map((n) => ({
          ...n,
          wolfIndex: n.wolfIndex!,
          mode:
            n.blame === null
              ? null
              : { name: modeTable[n.blame.modeIndex][2], frequency: modeTable[n.blame.modeIndex][0] },
        })),
    ),
    evenness({ notes: noteBoard, levelSpreadDb }),
  ];
  return {
    title: "Made-up guitar <for tests>",
    subtitle: "D standard, top of made-up spruce, back of made-up walnut",
    hand: "right",
    knowledge: "catalogue",
    plan: drawnPlan(),
    board: placedBoard(),
    plates,
    modes,
    response: { frequency, mobility, pressure: mobility.map((m, i) => m * frequency[i] * 0.05) },
    noteBoard,
    validToHz,
    modesToHz: 460,
    ranges: null,
    levelSpreadDb,
    upperThirdShare: 0.17,
    load: {
      strings: openStrings.map(([string, note, , tensionN, breaks]) => ({
        string,
        note,
        tensionN,
        linearDensityKgPerM: 0.001 * string,
        breakMargin: breaks / tensionN,
      })),
      totalN: strings.reduce((sum, s) => sum + s.tension, 0),
      bridgeRotation: 0.041,
      saddleRise: 0.0003,
    },
    verdicts: markMeant(found, [
      { verdict: "bridge-rotation", reason: "a light top was asked for, and the player retunes weekly" },
    ]).verdicts,
    limits: [
      "The body is one elastic structure, free in space, with perfect joints; creep and moisture do not act.",
      "The air outside knows the body alone: no room, no hands, no lap.",
      "Other strings are damped.",
    ],
    stamp: { engineVersion: "0.1.0", inputHash: "4f1c09aa7be2", settingsHash: "11d2e6" },
  };
}
