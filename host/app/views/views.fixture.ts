import { readFileSync } from "node:fs";
import type { BoardView, VoiceView } from "#engine/drawings";
import { mirrorBoard } from "#engine/geometry";
import { checkInstrument } from "#engine/instrument";
import type { NoteRow } from "#engine/notes";
import { type InstrumentSketch, instrumentSketch } from "#engine/pipeline";

/** An example of the repository, drawn without being solved. */
export function exampleSketch(name: string, hand: "right" | "left" = "right"): InstrumentSketch {
  const document = { ...JSON.parse(exampleText(name)), hand };
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const sketch = instrumentSketch(checked);
  if (!sketch.ok) throw new Error(sketch.detail);
  return sketch.value;
}

export function exampleText(name: string): string {
  return readFileSync(`examples/${name}.fairbout.json`, "utf8");
}

/** The board of an example as its hand has it. */
export function exampleBoard(name: string, hand: "right" | "left" = "right"): BoardView {
  const { board } = exampleSketch(name, hand);
  return hand === "left" ? mirrorBoard(board) : board;
}

const board = exampleBoard("low-radial");

/** A note with what a test needs to say of it. */
export function note(string: number, fret: number, figures: Partial<NoteRow> = {}): NoteRow {
  return {
    string,
    fret,
    note: "E2",
    frequencyHz: 82.4,
    levelDb: 70,
    levelDbA: 60,
    levelRangeDb: 3,
    decayS: 5,
    decayRangeFactor: 1.5,
    wolfIndex: 0.2,
    deadIndex: 1,
    verdict: "good",
    blame: null,
    foreseen: true,
    reason: null,
    partials: [],
    ...figures,
  };
}

/**
 * A voice on a plate of a square in four triangles, 0.5 m long and 0.4 m broad, with two modes made up for the test: one that
 * moves the middle of both plates, and one without a shape.
 */
export function squareView(change: Partial<VoiceView> = {}): VoiceView {
  const square = Float64Array.of(0, -0.2, 0.5, -0.2, 0.5, 0.2, 0, 0.2);
  const mesh = {
    nodes: Float64Array.of(...square, 0.25, 0),
    triangles: Uint32Array.of(0, 1, 4, 1, 2, 4, 2, 3, 4, 3, 0, 4),
  };
  return {
    title: "Square",
    subtitle: "",
    hand: "right",
    knowledge: "catalogue",
    a4: 440,
    plan: {
      outline: square,
      hole: new Float64Array(0),
      openEdge: [],
      braces: [],
      bridge: new Float64Array(0),
      bridgePlate: null,
      patches: [],
      saddle: [
        [0.25, 0.03],
        [0.25, -0.03],
      ],
    },
    board,
    plates: { top: mesh, back: mesh },
    modes: [
      {
        frequencyHz: 100,
        q: 50,
        effectiveMassKg: 0.1,
        name: "main top",
        topMotion: Float64Array.of(0, 0, 0, 0, -2),
        backMotion: Float64Array.of(0, 0, 0, 0, 1),
      },
      { frequencyHz: 300, q: 60, effectiveMassKg: null, name: null, topMotion: null, backMotion: null },
    ],
    response: {
      frequency: Float64Array.of(60, 100, 200, 400),
      mobility: Float64Array.of(0.01, 0.1, 0.02, 0.001),
      pressure: Float64Array.of(0.02, 0.2, 0.02, 0.02),
    },
    noteBoard: [note(1, 0), note(1, 1)],
    validToHz: 300,
    modesToHz: 400,
    levelSpreadDb: 6,
    ranges: null,
    upperThirdShare: 0.2,
    load: { strings: [], totalN: 700, bridgeRotation: 0.02, saddleRise: 0.0003 },
    verdicts: [],
    limits: [],
    stamp: { engineVersion: "", inputHash: "", settingsHash: "" },
    ...change,
  };
}
