/** Where frets stand: the fret law and the old rule of eighteen. */
import { type BoardSpec, boardLayout } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

const asked = [1, 2, 3, 5, 7, 12, 14, 20, 24];

function board(scale: number, more: Partial<BoardSpec> = {}): BoardSpec {
  return {
    strings: 6,
    bassScale: scale,
    trebleScale: scale,
    squareFret: 0,
    frets: 24,
    nutWidth: 0.044,
    endWidth: 0.058,
    endStation: null,
    // Parallel strings: the scale then lies along the centreline as well.
    stringSpreadNut: 0.04,
    stringSpreadSaddle: 0.04,
    ...more,
  };
}

proof(
  "scale length over the distance to the first fret",
  {
    source: "BYERS fret.17817",
    quoted: 17.817154,
    absTol: 1e-6,
    because: "the value is given to six places",
    mustNotice: { firstFret: 1.000001 },
  },
  (slip) => {
    const { strings } = opened(boardLayout(board(0.65)));
    return 0.65 / (strings[0].fretDistance[1] * (slip.firstFret ?? 1));
  },
);

for (const [scale, quoted] of [
  [0.65, [36.4817, 70.9158, 103.4173, 163.0502, 216.177, 325.0, 360.4579, 445.2628, 487.5]],
  [0.6477, [36.3526, 70.6649, 103.0514, 162.4733, 215.4121, 323.85, 359.1825, 443.6873, 485.775]],
] as const) {
  proof(
    `nut to fret on a scale of ${scale} m, along each string and at both ends of the slots`,
    {
      source: "FRETEQ fret.650, fret.6477",
      quoted: [...quoted, ...quoted, ...quoted].map((mm) => mm / 1000),
      absTol: 1e-7,
      because: "the table is rounded to a tenth of a micrometre",
      mustNotice: { scale: 1.00001, semitone: 1.00001 },
    },
    (slip) => {
      const cents = Array.from({ length: 24 }, (_, i) => 100 * (i + 1) * (slip.semitone ?? 1));
      const temperament = slip.semitone === undefined ? undefined : ({ kind: "cents", cents } as const);
      const spec = board(scale * (slip.scale ?? 1), temperament === undefined ? {} : { temperament });
      const { strings, slots } = opened(boardLayout(spec));
      return [
        ...asked.map((fret) => strings[3].fretDistance[fret]),
        ...asked.map((fret) => slots[fret - 1].bass[0]),
        ...asked.map((fret) => slots[fret - 1].treble[0]),
      ];
    },
  );
}

proof(
  "the rule of eighteen on 650 mm: nut to the 12th fret, and the interval it gives in cents",
  {
    source: "FRETEQ fret.rule18",
    quoted: [0.3226364, 1187.455],
    relTol: 1e-6,
    because: "given to a tenth of a micrometre and a thousandth of a cent",
    mustNotice: { eighteen: 1.0001 },
  },
  (slip) => {
    const eighteen = 18 * (slip.eighteen ?? 1);
    const step = -1200 * Math.log2(1 - 1 / eighteen);
    const cents = Array.from({ length: 24 }, (_, i) => step * (i + 1));
    const { strings } = opened(boardLayout(board(0.65, { temperament: { kind: "cents", cents } })));
    const twelfth = strings[2].fretDistance[12];
    return [twelfth, 1200 * Math.log2(0.65 / (0.65 - twelfth))];
  },
);

proof(
  "a skewed board, treble 652 and bass 672 mm, square at fret 7: each string divided by the fret law on its own length",
  {
    source: "FRETEQ X(n) = L (1 - 2^(-n/12))",
    quoted: [0.652, 0.672].flatMap((length) => asked.map((n) => length * (1 - 2 ** (-n / 12)))),
    absTol: 1e-12,
    because: "both are the same closed form, reached through plane geometry; slots need 1e-12 m",
    mustNotice: { bass: 1.000001, treble: 1.000001 },
  },
  (slip) => {
    const spec = board(0, {
      bassScale: 0.672 * (slip.bass ?? 1),
      trebleScale: 0.652 * (slip.treble ?? 1),
      squareFret: 7,
      stringSpreadNut: 0.038,
      stringSpreadSaddle: 0.057,
    });
    const { strings, slots } = opened(boardLayout(spec));
    // Measured on the slots: where the slot's line meets the string's line, from the nut.
    return [strings[0], strings[5]].flatMap((string) =>
      asked.map((fret) => {
        const { bass, treble } = slots[fret - 1];
        const ux = string.saddle[0] - string.nut[0];
        const uy = string.saddle[1] - string.nut[1];
        const vx = bass[0] - treble[0];
        const vy = bass[1] - treble[1];
        const f = ((treble[0] - string.nut[0]) * vy - (treble[1] - string.nut[1]) * vx) / (ux * vy - uy * vx);
        return f * Math.hypot(ux, uy);
      }),
    );
  },
);
