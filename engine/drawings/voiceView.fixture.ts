/**
 * A guitar made up for the tests of this module: its outline, board and meshes are plausible, its modes, notes and
 * figures are invented formulas, not results. It never leaves the tests.
 */
import { type BoardLayout, boardLayout, type Point } from "#engine/geometry";
import type { NoteRow } from "#engine/notes";
import { opened } from "#engine/numerics";
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
import type { BoardView, ModeView, PlateMesh, VoiceView } from "./voiceView.ts";

export const bodyLength = 0.498;
const widths: readonly (readonly [number, number])[] = [
  [0, 0],
  [0.012, 0.075],
  [0.04, 0.135],
  [0.09, 0.182],
  [0.15, 0.198],
  [0.21, 0.188],
  [0.27, 0.15],
  [0.315, 0.131],
  [0.36, 0.135],
  [0.41, 0.146],
  [0.45, 0.138],
  [0.48, 0.1],
  [0.492, 0.06],
  [bodyLength, 0],
];

function halfWidth(x: number): number {
  const last = widths.length - 1;
  const at = (k: number) => widths[Math.max(0, Math.min(last, k))];
  const next = widths.findIndex(([s]) => s > x);
  const i = next < 0 ? last - 1 : next - 1;
  const [x1, y1] = at(i);
  const [x2, y2] = at(i + 1);
  const h = x2 - x1;
  const t = Math.min(1, Math.max(0, (x - x1) / h));
  if (i === 0) return y2 * Math.sqrt(t);
  if (i === last - 1) return y1 * Math.sqrt(1 - t);
  const slope = (k: number) =>
    k === 1 ? 1.7 : k === last - 1 ? -5 : (at(k + 1)[1] - at(k - 1)[1]) / (at(k + 1)[0] - at(k - 1)[0]);
  return (
    y1 * (1 + 2 * t) * (1 - t) ** 2 +
    h * slope(i) * t * (1 - t) ** 2 +
    y2 * t * t * (3 - 2 * t) +
    h * slope(i + 1) * t * t * (t - 1)
  );
}

/** Round ends: the station runs as a cosine so that points crowd where the edge turns. */
function outline(): Float64Array {
  const n = 90;
  const points: number[] = [];
  const station = (k: number) => (bodyLength * (1 - Math.cos((Math.PI * k) / n))) / 2;
  for (let k = 0; k < n; k++) points.push(station(k), -halfWidth(station(k)));
  for (let k = n; k > 0; k--) points.push(station(k), halfWidth(station(k)));
  return Float64Array.from(points);
}

function ring(cx: number, cy: number, a: number, b: number, turn: number): Float64Array {
  const out = new Float64Array(120);
  for (let i = 0; i < 60; i++) {
    const t = (2 * Math.PI * i) / 60;
    out[2 * i] = cx + a * Math.cos(t) * Math.cos(turn) - b * Math.sin(t) * Math.sin(turn);
    out[2 * i + 1] = cy + a * Math.cos(t) * Math.sin(turn) + b * Math.sin(t) * Math.cos(turn);
  }
  return out;
}

function mesh(withHole: boolean): PlateMesh {
  const [nx, ny] = [64, 40];
  const nodes: number[] = [];
  for (let i = 0; i <= nx; i++) {
    const x = (bodyLength * (1 - Math.cos(Math.PI * (0.02 + (0.96 * i) / nx)))) / 2;
    for (let j = 0; j <= ny; j++) nodes.push(x, halfWidth(x) * ((2 * j) / ny - 1));
  }
  const triangles: number[] = [];
  const open = (a: number, b: number, c: number) => {
    const x = (nodes[2 * a] + nodes[2 * b] + nodes[2 * c]) / 3;
    const y = (nodes[2 * a + 1] + nodes[2 * b + 1] + nodes[2 * c + 1]) / 3;
    return ((x - 0.41) / 0.06) ** 2 + ((y - 0.085) / 0.036) ** 2 < 1;
  };
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      const a = i * (ny + 1) + j;
      const faces = [
        [a, a + ny + 1, a + ny + 2],
        [a, a + ny + 2, a + 1],
      ];
      for (const [p, q, r] of faces) if (!withHole || !open(p, q, r)) triangles.push(p, q, r);
    }
  }
  return { nodes: Float64Array.from(nodes), triangles: Uint32Array.from(triangles) };
}

const bridgeAt = 0.172;

export function placedBoard(mirrored = false): BoardView {
  const layout: BoardLayout = opened(
    boardLayout({
      strings: 6,
      bassScale: 0.672,
      trebleScale: 0.652,
      squareFret: 7,
      frets: 20,
      nutWidth: 0.0445,
      endWidth: 0.057,
      endStation: 0.462,
      stringSpreadNut: 0.0378,
      stringSpreadSaddle: 0.056,
    }),
  );
  const shift = bridgeAt + layout.strings[2].saddle[0];
  const put = ([x, y]: Point): Point => [shift - x, mirrored ? -y : y];
  return {
    strings: layout.strings.map((s) => ({ ...s, nut: put(s.nut), saddle: put(s.saddle) })),
    slots: layout.slots.map((s) => ({ ...s, bass: put(s.bass), treble: put(s.treble) })),
    nutLine: { ...layout.nutLine, bass: put(layout.nutLine.bass), treble: put(layout.nutLine.treble) },
    bassEdge: [put(layout.bassEdge[0]), put(layout.bassEdge[1])],
    trebleEdge: [put(layout.trebleEdge[0]), put(layout.trebleEdge[1])],
  };
}

const bar = (
  name: string,
  plate: "top" | "back",
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  width = 0.0075,
  height = 0.014,
) => ({
  name,
  plate,
  path: Float64Array.of(x1, y1, x2, y2),
  width,
  height,
});

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
    plan: {
      outline: outline(),
      hole: ring(0.41, 0.085, 0.06, 0.036, 0.1),
      openEdge: [],
      braces: [
        bar("radial 1", "top", 0.19, 0.03, 0.36, 0.115),
        bar("radial 2", "top", 0.17, 0.045, 0.2, 0.185),
        bar("radial 3", "top", 0.15, 0.035, 0.035, 0.12),
        bar("radial 4", "top", 0.14, 0, 0.012, 0),
        bar("radial 5", "top", 0.15, -0.035, 0.035, -0.12),
        bar("radial 6", "top", 0.17, -0.045, 0.2, -0.185),
        bar("radial 7", "top", 0.19, -0.03, 0.4, -0.13),
        bar("shoulder bar", "top", 0.462, 0.09, 0.455, -0.13, 0.011, 0.016),
        bar("back 1", "back", 0.1, -0.185, 0.1, 0.185, 0.008, 0.012),
        bar("back 2", "back", 0.24, -0.17, 0.24, 0.17, 0.008, 0.012),
        bar("back 3", "back", 0.38, -0.138, 0.38, 0.138, 0.007, 0.013),
      ],
      bridge: Float64Array.of(0.155, -0.08, 0.185, -0.08, 0.187, 0, 0.19, 0.08, 0.15, 0.08, 0.152, 0),
      patches: [],
      bridgePlate: Float64Array.of(0.14, -0.075, 0.185, -0.075, 0.185, 0.075, 0.14, 0.075),
      saddle: [placedBoard().strings[5].saddle, placedBoard().strings[0].saddle],
    },
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
    },
    verdicts: markMeant(found, [
      { verdict: "bridge-rotation", reason: "a light top was asked for, and the player retunes weekly" },
    ]).verdicts,
    limits: [
      "The sides, blocks and neck move as one rigid body: no dead spots that come from the neck are foreseen.",
      "The air inside is one spring: its own standing waves, from about 350 Hz, are not in the model.",
      "Perfect joints and elastic wood are assumed; creep, moisture and prestress do not act yet.",
    ],
    stamp: { engineVersion: "0.1.0", inputHash: "4f1c09aa7be2", settingsHash: "11d2e6" },
  };
}
