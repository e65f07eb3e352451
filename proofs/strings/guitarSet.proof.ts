import { opened } from "#engine/numerics";
import { compensation, designString, frettedErrors, type StringDesign, tension } from "#engine/strings";
import { proof } from "#proofs/harness";
import { checkValue } from "./checkValue.ts";

const inch = 0.0254;
const plain = (gauge: number) =>
  opened(designString({ kind: "plain", diameter: gauge * inch, material: "steel" }));
/** Hexagonal core given across its flats, phosphor bronze, outer gauge over the corners. */
const wound = (gauge: number, core: number) =>
  opened(
    designString({
      kind: "wound",
      coreDiameter: core * inch,
      coreShape: "hex",
      wraps: [{ diameter: ((gauge - (2 * core) / Math.sqrt(3)) / 2) * inch, material: "phosphor-bronze" }],
    }),
  );

const scale = 0.648;
/** A light steel set, wound third; core sizes from memory. Open pitch in Hz, action at fret 12 in m. */
const lightSet: readonly {
  readonly design: StringDesign;
  readonly pitch: number;
  readonly action: number;
}[] = [
  { design: plain(0.012), pitch: 329.63, action: 1.8e-3 },
  { design: plain(0.016), pitch: 246.94, action: 1.9e-3 },
  { design: wound(0.024, 0.012), pitch: 196, action: 2.0e-3 },
  { design: wound(0.032, 0.0135), pitch: 146.83, action: 2.1e-3 },
  { design: wound(0.042, 0.016), pitch: 110, action: 2.2e-3 },
  { design: wound(0.053, 0.0185), pitch: 82.41, action: 2.4e-3 },
];

proof(
  "a light steel set on 648 mm pulls 70 to 80 kgf",
  {
    source: "COMMON-PRACTICE",
    quoted: 75,
    absTol: 5,
    because: "the range that makers quote",
    mustNotice: { linearDensity: 1.15, length: 0.98 },
  },
  (slip) => {
    const newtons = lightSet.reduce(
      (sum, s) =>
        sum +
        tension(
          s.design.linearDensity * (slip["linearDensity"] ?? 1),
          scale * (slip["length"] ?? 1),
          s.pitch,
        ),
      0,
    );
    return newtons / 9.80665;
  },
);

const fretDistance = (frets: number) =>
  Float64Array.from({ length: frets + 1 }, (_, f) => scale * (1 - 2 ** (-f / 12)));
/** Low and high of usual saddle offsets, strings 1 to 6, plain second and wound third, m. */
const usual = [
  [1.5, 2],
  [2.5, 3.5],
  [1.5, 2.5],
  [2, 3],
  [3, 4],
  [4, 5.5],
].map((r) => r.map((x) => x / 1000)) as [number, number][];

proof(
  "saddle offsets of a light set lie in the ranges makers use (as places in each range, -1 to 1)",
  {
    source: "COMMON-PRACTICE",
    quoted: usual.map(() => 0),
    absTol: 1,
    because: "the ranges themselves; action 1.8 to 2.4 mm, nut 0.4 mm over the crowns",
    mustNotice: { axialStiffness: 1.4, action: 1.25, bendingStiffness: 2 },
  },
  (slip) =>
    lightSet.map((s, i) => {
      const design = {
        ...s.design,
        axialStiffness: s.design.axialStiffness * (slip["axialStiffness"] ?? 1),
        bendingStiffness: s.design.bendingStiffness * (slip["bendingStiffness"] ?? 1),
      };
      const { saddleOffset } = compensation(design, s.pitch, {
        scaleLength: scale,
        fretDistance: fretDistance(20),
        action: s.action * (slip["action"] ?? 1),
        nutHeight: 4e-4,
      });
      const [low, high] = usual[i]!;
      return (saddleOffset - (low + high) / 2) / ((high - low) / 2);
    }),
);

const band = checkValue<{ comp: number }>("string.intonation.band");
proof(
  "the published model leaves a compensated note within 8 cents: largest error over 12 frets of each string",
  {
    source: band.source,
    quoted: lightSet.map(() => 0),
    absTol: band.value.comp,
    because: "the published bound, read in a summary of the paper: an order of magnitude",
    mustNotice: { offset: 0.2 },
  },
  (slip) =>
    lightSet.map((s) => {
      const geometry = {
        scaleLength: scale,
        fretDistance: fretDistance(12),
        action: s.action,
        nutHeight: 4e-4,
        ends: "clamped",
      } as const;
      const fit = compensation(s.design, s.pitch, geometry);
      const errors = frettedErrors(s.design, s.pitch, geometry, fit.saddleOffset * (slip["offset"] ?? 1), 0);
      return errors.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    }),
);
