/** The fingerboard in three dimensions: the cone against its own definition, slots of gap-spaced and square frets against the fret law. */
import { boardLayout, coneHeight } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

// A cone made by turning a straight line about an axis: half angle, distances from its point, angles round the axis.
const cases = [0.05, 0.2, 0.3281, 0.7].flatMap((half) =>
  [0.6, 1.2, 2].flatMap((out) => [0.01, -0.03, 0.08].map((turn) => ({ half, out, turn }))),
);

/** A point of the turned cone in the frame of its crest line: along it from the point, across, up. */
function turned({ half, out, turn }: (typeof cases)[number]): readonly [number, number, number] {
  const [axial, radial] = [out * Math.cos(half), out * Math.sin(half)];
  // axis frame: along the axis, across, towards the crest; then tilted by the half angle so that the crest is level
  const [y, towardsCrest] = [radial * Math.sin(turn), radial * Math.cos(turn)];
  return [
    axial * Math.cos(half) + towardsCrest * Math.sin(half),
    y,
    -axial * Math.sin(half) + towardsCrest * Math.cos(half),
  ];
}

proof(
  "height of a conical board beside its crest line: a straight line turned about an axis, half angles 3 to 40 degrees",
  {
    source: "CLOSED-FORM the cone as a surface of revolution",
    quoted: cases.map((c) => turned(c)[2]),
    absTol: 1e-15,
    because: "both are closed forms; heights are 0.03 to 8 mm",
    mustNotice: { radius: 1.00001, growth: 1.001, across: 1.00001 },
  },
  (slip) =>
    cases.map((c) => {
      const [u, y] = turned(c);
      const growth = Math.tan(c.half);
      return coneHeight(
        growth * u * (slip["radius"] ?? 1),
        growth * (slip["growth"] ?? 1),
        y * (slip["across"] ?? 1),
      );
    }),
);

const asked = [1, 2, 5, 7, 12, 17, 22];

proof(
  "equal gaps, a square fret before the nut or at the bridge: outer strings stay divided by the fret law",
  {
    source: "FRETEQ X(n) = L (1 - 2^(-n/12))",
    quoted: [-3.5, 7.5, 1200].flatMap(() =>
      [0.652, 0.66].flatMap((length) => asked.map((n) => length * (1 - 2 ** (-n / 12)))),
    ),
    absTol: 1e-12,
    because:
      "closed form reached through plane geometry: read where slot and string cross; slots need 1e-12 m",
    mustNotice: { bass: 1.000001, treble: 1.000001, spread: 1.001 },
  },
  (slip) =>
    [-3.5, 7.5, 1200].flatMap((squareFret) => {
      const { strings, slots } = opened(
        boardLayout({
          strings: 6,
          bassScale: 0.66 * (slip["bass"] ?? 1),
          trebleScale: 0.652 * (slip["treble"] ?? 1),
          squareFret,
          frets: 24,
          nutWidth: 0.0445,
          endWidth: 0.06,
          endStation: null,
          stringSpreadNut: 0.0375,
          stringSpreadSaddle: 0.0565,
          spacing: {
            nut: "gaps",
            saddle: "gaps",
            diameters: [0.3, 0.4, 0.6, 0.8, 1.1, 1.4].map((mm) => mm / 1000),
          },
        }),
      );
      return [strings[0], strings[5]].flatMap((string) =>
        asked.map((fret) => {
          const { bass, treble } = slots[fret - 1];
          const ux = string.saddle[0] - string.nut[0];
          const uy = (string.saddle[1] - string.nut[1]) * (slip["spread"] ?? 1);
          const vx = bass[0] - treble[0];
          const vy = bass[1] - treble[1];
          const f =
            ((treble[0] - string.nut[0]) * vy - (treble[1] - string.nut[1]) * vx) / (ux * vy - uy * vx);
          return f * Math.hypot(ux, uy);
        }),
      );
    }),
);
