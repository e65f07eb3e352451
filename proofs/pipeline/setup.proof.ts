/** Setup against geometry in space and rules of the trade. */
import { opened } from "#engine/numerics";
import { setupReport } from "#engine/pipeline";
import { proof } from "#proofs/harness";
import { openExample } from "./openExample.ts";

type Json = Record<string, unknown>;
type Vector = readonly [number, number, number];

const inner = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function setupOf(name: string, change: (document: Json) => void = () => {}) {
  const { build, geometry, strings } = openExample(name, change);
  return { build, geometry, report: opened(setupReport(build, geometry, strings)) };
}

/** The small ladder-braced body, its board flat and its relief taken out: nut, fret 12 and saddle of each string are then points in one plane and on one line. */
const straight = (d: Json) => {
  (d["strings"] as Json)["relief"] = "0 mm";
};
const pitch = 1.35;

proof(
  "break angles over the saddle, as the turn between the string's two straight parts in space",
  {
    source: "CLOSED-FORM angle between two vectors, the string's points set out in the body frame",
    quoted: (() => {
      const { build, geometry, report } = setupOf("small-ladder", straight);
      const radius = build.body.topDome!.radius;
      const [ax, ay] = build.body.topDome!.apex;
      const top = (x: number, y: number): number =>
        Math.sqrt(radius ** 2 - (x - ax) ** 2 - (y - ay) ** 2) - radius;
      const [c, s] = [Math.cos((pitch * Math.PI) / 180), Math.sin((pitch * Math.PI) / 180)];
      const end = geometry.plan.length;
      // the plane of the crowns over the body's end, and its normal, tilted back by the neck's pitch
      const foot: Vector = [end, 0, top(end, 0) + 0.0055 + 0.001];
      return geometry.board.strings.map((path, i) => {
        const [nx, ny] = path.nut;
        const [sx, sy] = path.saddle;
        const nutClear = build.strings[i]!.nutClearance;
        const nut: Vector = [nx + s * nutClear, ny, foot[2] - ((nx - end) * s) / c + c * nutClear];
        const crown: Vector = [sx, sy, top(sx, sy) + report.strings[i]!.heightAtBridgeM];
        const behind = build.strings[i]!.behindSaddle;
        const pin: Vector = [sx - behind, sy, top(sx - behind, sy) + build.bridge.thickness];
        const ahead: Vector = [nut[0] - crown[0], nut[1] - crown[1], nut[2] - crown[2]];
        const back: Vector = [crown[0] - pin[0], crown[1] - pin[1], crown[2] - pin[2]];
        const cos = inner(ahead, back) / Math.sqrt(inner(ahead, ahead) * inner(back, back));
        return (Math.acos(cos) * 180) / Math.PI;
      });
    })(),
    absTol: 0.03,
    because:
      "the string's slant across the board (0.8 degrees) is left out of the turn, which is taken in its own upright plane",
    mustNotice: { pitch: 1.05, anchor: 1.01, fretHeight: 1.05 },
  },
  (slip) => {
    const { report } = setupOf("small-ladder", (d) => {
      straight(d);
      (d["neck"] as Json)["pitch"] = `${pitch * (slip["pitch"] ?? 1)} deg`;
      (d["fingerboard"] as Json)["fretHeight"] = `${slip["fretHeight"] ?? 1} mm`;
      if (slip["anchor"] !== undefined) (d["bridge"] as Json)["anchorBehind"] = `${8.75 * slip["anchor"]} mm`;
    });
    return report.strings.map((s) => s.breakAngleDeg);
  },
);

proof(
  "a 12-fret neck without a cutaway is played to about fret 15, whatever its scale",
  {
    source: "COMMON-PRACTICE",
    quoted: [15, 15, 15],
    absTol: 0.5,
    because: "a rule of the trade in whole frets",
    mustNotice: { joint: 14 / 12 },
  },
  (slip) =>
    ["609 mm", "628.65 mm", "655 mm"].map((length) => {
      const { report } = setupOf("small-ladder", (d) => {
        (d["strings"] as Json)["scale"] = { kind: "parallel", length };
        (d["neck"] as Json)["joinFret"] = Math.round(12 * (slip["joint"] ?? 1));
      });
      return report.reach.fret;
    }),
);

proof(
  "customary action (1.6 to 2.0 mm treble, 2.2 to 2.6 bass at fret 12) lies above what a soft pluck strikes at and below what a hard one clears from",
  {
    source: "COMMON-PRACTICE",
    quoted: [1, 1, 1, 1],
    absTol: 0.1,
    because: "each statement holds (1) or does not (0)",
    mustNotice: { pluck: 2.4 },
  },
  (slip) => {
    const mm = (value: number) => `${value * (slip["pluck"] ?? 1)} mm`;
    const { report } = setupOf("cross-braced", (d) => {
      d["setup"] = { pluck: { soft: mm(0.7), normal: mm(1.5), hard: mm(2.5) } };
    });
    const [treble, bass] = [report.tunings[0]!.strings[0]!, report.tunings[0]!.strings[5]!];
    const least = (s: typeof treble, k: number): number => s.plucks[k]!.leastActionM!;
    return [
      least(treble, 0) < 1.6e-3,
      least(bass, 0) < 2.2e-3,
      least(treble, 2) > 2e-3,
      least(bass, 2) > 2.6e-3,
    ].map(Number);
  },
);
