import { opened } from "#engine/numerics";
import {
  bestOffsets,
  designString,
  type FrettingString,
  frettedPitch,
  intonation,
  nearestNote,
  type StringDesign,
  tension,
  withAction,
} from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";
import { checkValue } from "./checkValue.ts";

const inch = 0.0254;
const plain = (gauge: number) =>
  opened(designString({ kind: "plain", diameter: gauge * inch, material: "steel" }));
/** Hexagonal core given across its flats, phosphor bronze; the wrap sits half way between flats and corners. */
const wound = (gauge: number, core: number) =>
  opened(
    designString({
      kind: "wound",
      coreDiameter: core * inch,
      coreShape: "hex",
      wraps: [
        { diameter: ((gauge - core * (0.5 + 1 / Math.sqrt(3))) / 2) * inch, material: "phosphor-bronze" },
      ],
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
  { design: wound(0.053, 0.017), pitch: 82.41, action: 2.4e-3 },
];

proof(
  "a light steel set on 648 mm pulls 70 to 80 kgf",
  {
    source: "COMMON-PRACTICE",
    quoted: 75,
    absTol: 5,
    because: "the range that makers quote",
    mustNotice: { linearDensity: 1.15, length: 0.95 },
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

const fretPlace = (frets: number) =>
  Float64Array.from({ length: frets + 1 }, (_, f) => scale * (1 - 2 ** (-f / 12)));

/** Number i of the set on a straight board, nut 0.4 mm over the crowns, pressed as lightly as holds it on the frets. */
function overBoard(i: number, frets: number, slip: Slips): FrettingString {
  const { design, pitch, action } = lightSet[i]!;
  const by = (name: string) => slip[name] ?? 1;
  const place = fretPlace(frets);
  return withAction(
    {
      string: i + 1,
      design: {
        ...design,
        axialStiffness: design.axialStiffness * by("axialStiffness"),
        bendingStiffness: design.bendingStiffness * by("bendingStiffness"),
      },
      openFrequency: pitch,
      scaleLength: scale,
      fretPlace: place,
      crownHeight: new Float64Array(place.length),
      nutHeight: 4e-4,
      saddleHeight: 0,
      behindNut: [0.05, 0.09, 0.13, 0.13, 0.09, 0.05][i]!,
      behindSaddle: 0.015,
      friction: "none",
      finger: {
        behind: { kind: "share", share: 0.5, most: 0.012 },
        depth: 0.15e-3 * by("fingerDepth"),
      },
    },
    action * by("action"),
  );
}

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
    because:
      "the ranges themselves; action 1.8 to 2.4 mm, a finger 0.15 mm deep, a string that slips over nut and saddle: at 0.3 mm and with full friction the model asks for a third more",
    mustNotice: { axialStiffness: 1.25, action: 1.25, bendingStiffness: 2, fingerDepth: 2 },
  },
  (slip) =>
    lightSet.map((_, i) => {
      const [fit] = opened(bestOffsets([overBoard(i, 20, slip)], { nut: "zero" }));
      const [low, high] = usual[i]!;
      return (fit!.offsets.saddle - (low + high) / 2) / ((high - low) / 2);
    }),
);

const band = checkValue<{ comp: number }>("string.intonation.band");
proof(
  "a compensated note is within the 8 cents of the published model: largest error over 12 frets of each string",
  {
    source: band.source,
    quoted: lightSet.map(() => 0),
    absTol: band.value.comp,
    because: "the published bound, read in a summary of the paper: an order of magnitude",
    mustNotice: { offset: 0.2 },
  },
  (slip) =>
    lightSet.map((_, i) => {
      const s = overBoard(i, 12, {});
      const { offsets } = opened(bestOffsets([s], { nut: "zero" }))[0]!;
      const { cents } = opened(intonation(s, { nut: 0, saddle: offsets.saddle * (slip["offset"] ?? 1) }));
      return cents.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
    }),
);

proof(
  "string 1 at fret 15 is G5 in standard tuning (note 79, A4 = 69)",
  {
    source: "COMMON-PRACTICE",
    quoted: 79,
    absTol: 0.5,
    because: "whole numbers of notes",
    mustNotice: { fret: 16 / 15, scale: 1.1 },
  },
  (slip) => {
    const s = overBoard(0, 20, {});
    const fretted = frettedPitch(s, Math.round(15 * (slip["fret"] ?? 1)), { nut: 0, saddle: 1.8e-3 });
    return nearestNote(opened(fretted).frequency * (slip["scale"] ?? 1));
  },
);
