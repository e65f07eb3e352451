/**
 * The load on the guitar made up for the tests of this module (drawnGuitar.fixture.ts): shifts, stresses and turns are invented
 * formulas, not results; strengths and creep are the tables' own. It never leaves the tests.
 */
import { opened } from "#engine/numerics";
import { margins } from "#engine/verdicts";
import { creepRange } from "#engine/woods";
import { bodyLength, halfWidth, mesh } from "./drawnGuitar.fixture.ts";
import type { LoadSheetView } from "./loadView.ts";
import { fabricatedView } from "./voiceView.fixture.ts";

const shape = (x: number, y: number): number => {
  const edge = Math.max(0, 1 - (y / Math.max(1e-6, halfWidth(x))) ** 2);
  return -9e-4 * Math.sin((2 * Math.PI * (x - 0.02)) / (bodyLength - 0.02)) * edge * -1;
};

const chain = (from: number, to: number, z: (x: number) => number) =>
  Float64Array.from({ length: 42 }, (_, i) => {
    const x = from + ((to - from) * Math.floor(i / 2)) / 20;
    return i % 2 === 0 ? x : z(x);
  });

const still = (points: Float64Array) => new Float64Array(points.length);

function section(): LoadSheetView["section"] {
  const top = chain(0, bodyLength, () => 0);
  const back = chain(0, bodyLength, () => -0.1);
  const board = chain(bodyLength, 0.85, (x) => 0.012 - 0.01 * (x - bodyLength));
  const lift = (points: Float64Array) =>
    points.map((_, i) => (i % 2 === 0 ? 0 : 4e-3 * (points[i - 1] - bodyLength)));
  return {
    lines: [
      { part: "top", rest: top, shift: top.map((_, i) => (i % 2 === 0 ? 0 : shape(top[i - 1], 0))) },
      { part: "back", rest: back, shift: still(back) },
      { part: "board", rest: board, shift: lift(board) },
      {
        part: "bridge",
        rest: Float64Array.of(0.155, 0.001, 0.155, 0.01, 0.185, 0.01, 0.185, 0.001),
        shift: Float64Array.of(0, 4e-4, 2e-4, 4e-4, 2e-4, -4e-4, 0, -4e-4),
      },
    ],
    string: { rest: Float64Array.of(0.172, 0.013, 0.85, 0.01), shift: Float64Array.of(3e-4, 0, 0, 1.41e-3) },
  };
}

/** The load of the made-up guitar; `without`: nothing computed beyond the deflected top. */
export function fabricatedLoad(without = false): LoadSheetView {
  const voice = fabricatedView();
  const top = mesh(true);
  const at = (n: number) => [top.nodes[2 * n], top.nodes[2 * n + 1]] as const;
  const count = top.nodes.length / 2;
  const stress = Float64Array.from({ length: 6 * count }, (_, k) => {
    const [x, y] = at(Math.floor(k / 6));
    const face = k % 6 < 3 ? -1 : 1;
    const size = [8e6, 7e5, 1e6][k % 3];
    return face * size * shape(x, y) * 1e3 * (k % 3 === 1 ? Math.cos(20 * y) : 1);
  });
  const rows = margins(
    [
      {
        part: "top",
        kind: "tension-across",
        stress: 8e5,
        place: { x: 0.2, y: 0.044 },
        woods: ["Spruce, Sitka"],
        glue: null,
        peak: false,
      },
      {
        part: "bridge on the top, rear edge",
        kind: "glue-peel",
        stress: 2.5e6,
        place: { x: 0.155, y: -0.03 },
        woods: ["Spruce, Sitka"],
        glue: "hide",
        peak: true,
      },
      {
        part: "back <bar> 1",
        kind: "shear-along",
        stress: 1e5,
        place: null,
        woods: ["Spruce, Sitka"],
        glue: null,
        peak: false,
      },
      {
        part: "sides",
        kind: "bending-along",
        stress: 3e6,
        place: null,
        woods: [null],
        glue: null,
        peak: false,
      },
    ],
    {
      name: "strings at pitch, 50 years, shop air",
      moisture: 0.082,
      temperature: 294,
      seconds: 50 * 3.156e7,
    },
  );
  const turn = {
    bridgeRotation: 0.041,
    blockTilt: -0.0021,
    blockTwist: 0.0004,
    actionChange: [3.1e-4, 3.4e-4, 3.7e-4, 4e-4, 4.3e-4, 4.6e-4],
  };
  return {
    title: voice.title,
    subtitle: voice.subtitle,
    hand: "right",
    plan: voice.plan,
    board: voice.board,
    load: voice.load,
    neckBlock: { tilt: -0.0021, twist: 0.0004 },
    buckling: { factor: 5.6, knockDown: 2 },
    deflection: { mesh: top, rise: Float64Array.from({ length: count }, (_, n) => shape(...at(n))) },
    section: without ? null : section(),
    stresses: without ? [] : [{ plate: "top", mesh: top, stress, grainAngle: 0 }],
    glueLine: without
      ? null
      : {
          glue: "hide",
          area: 51e-4,
          pull: 720,
          couple: 9.6,
          meanShear: 1.4e5,
          edgeShear: { low: 1.5e6, likely: 2.2e6, high: 3.1e6 },
          peelPerLength: 2700,
          meanPeel: 2.2e6,
          edgePeel: { low: 6.5e6, likely: 8.4e6, high: 1.1e7 },
        },
    margins: without ? [] : rows,
    variants: without
      ? []
      : [
          { name: "as designed", ...turn },
          {
            name: "without its rods",
            ...turn,
            blockTilt: -0.0035,
            actionChange: turn.actionChange.map((a) => 1.3 * a),
          },
        ],
    tunings: without
      ? []
      : [
          { name: "D standard", notes: "D2 G2 C3 F3 A3 D4", totalN: 720, ...turn },
          { name: "open F", notes: "C2 F2 C3 F3 A3 C4", totalN: 655, ...turn, bridgeRotation: 0.037 },
        ],
    climates: without
      ? []
      : [
          {
            name: "winter home",
            relativeHumidity: 0.2,
            temperature: 294.15,
            moisture: [0.082, 0.045],
            saddleRise: -6.1e-4,
            actionChange: -4.2e-4,
            across: { margin: 1.2, part: "top" },
          },
          {
            name: "hot car",
            relativeHumidity: 0.1,
            temperature: 333.15,
            moisture: [0.082, 0.02],
            saddleRise: null,
            actionChange: null,
            across: null,
          },
        ],
    creep: without ? [] : [1, 10, 50].map((years) => ({ years, range: opened(creepRange(years, 2)) })),
    neck: without
      ? null
      : {
          reliefWanted: 1.5e-4,
          reliefSlack: 4.4e-4,
          reliefStated: null,
          statedForce: null,
          wantedForce: 981,
          firstWeeks: {
            weeks: 4,
            low: 2e-5,
            likely: 9e-5,
            high: 2.7e-4,
            withBody: true,
            customary: { low: 3e-4, high: 8e-4 },
          },
        },
    verdicts: voice.verdicts,
    limits: ["elastic model of the whole body, good to 20 %."],
    cautions: ["Slacken all strings before the bridge is heated.", "A closed car in the sun softens glue."],
    stamp: voice.stamp,
  };
}
