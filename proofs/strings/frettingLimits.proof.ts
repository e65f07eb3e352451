import { opened } from "#engine/numerics";
import { designString, type FrettingString, frettedPitch, soundingFrequency } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";

const wire = opened(designString({ kind: "plain", diameter: 0.4e-3, material: "steel" }));
/** sqrt(EI/T)/L of the strings looked at: an open first string, a thick one stopped high up. */
const ratios = [0.001, 0.003, 0.006, 0.01];

/** Partial n over that of the flexible string, ends as given, for a string of unit length, pull and mass. */
function raised(ratio: number, end: number, n: number, slip: Slips): number {
  return (
    soundingFrequency(
      {
        length: 1,
        tension: 1,
        bendingStiffness: ratio * ratio * (slip["bendingStiffness"] ?? 1),
        linearDensity: 1,
        ends: [end, end],
      },
      n,
    ) /
    (n / 2)
  );
}

proof(
  "stiff string between clamps: first partial over the flexible string's, less 1, by e/L = 0.001 to 0.01",
  {
    source: "MORSE-1948",
    quoted: ratios.map((r) => 2 * r + (4 + Math.PI ** 2 / 2) * r * r),
    relTol: 2e-3,
    because:
      "the series ends at the square; its next term is about 28 (e/L)^3, which is 1.4e-3 of the whole at 0.01",
    mustNotice: { bendingStiffness: 1.01, ends: 1e-3 },
  },
  (slip) =>
    ratios.map((r) => raised(r, slip["ends"] === undefined ? Number.POSITIVE_INFINITY : 1, 1, slip) - 1),
);

proof(
  "stiff string on hinges: partials 1 to 20 over those of the flexible string",
  {
    source: "FLETCHER-1964",
    quoted: ratios.flatMap((r) => [1, 5, 20].map((n) => Math.sqrt(1 + (n * Math.PI * r) ** 2))),
    relTol: 1e-13,
    because: "the same equation solved exactly: rounding",
    mustNotice: { bendingStiffness: 1.001 },
  },
  (slip) => ratios.flatMap((r) => [1, 5, 20].map((n) => raised(r, 0, n, slip))),
);

const scale = 0.648;
const pitch = 246.94;
const fretPlace = Float64Array.from({ length: 21 }, (_, f) => scale * (1 - 2 ** (-f / 12)));
/** So low and so stiff that T/EA is nothing beside 1 while the stretch is that of a real string. */
const flat = 0.1;
const nutHeight = 4e-4 * flat;
const saddleHeight = nutHeight + 2 * (2e-3 * flat - nutHeight);
const axialStiffness = wire.axialStiffness / flat ** 2;

/** Cents by which the perturbation formula has frets 1, 2, 3 .. sharp, for a string without bending stiffness. */
function published(friction: "none" | "full", behind: number): number[] {
  const open = Math.hypot(scale, saddleHeight - nutHeight);
  const pull = wire.linearDensity * (2 * open * pitch) ** 2;
  const stretching = friction === "full" ? open : open + behind;
  return Array.from(fretPlace.subarray(1), (place) => {
    const toFret = Math.hypot(place, nutHeight);
    const sounding = Math.hypot(scale - place, saddleHeight);
    const fretted = pull + (axialStiffness * (toFret + sounding - open)) / stretching;
    const frequency = Math.sqrt(fretted / wire.linearDensity) / (2 * sounding);
    return 1200 * Math.log2((frequency * (scale - place)) / (pitch * scale));
  });
}

for (const friction of ["full", "none"] as const)
  proof(
    `cents of frets 1 to 20 for a string that only stretches, friction at nut and saddle ${friction}`,
    {
      source: "VARIESCHI formula from memory, its text was not to be had",
      quoted: published(friction, 0.105),
      absTol: 0.005,
      because:
        "the published model has straight parts from nut to fret to saddle: the finger stands 1 um behind the crown",
      mustNotice: {
        axialStiffness: 1.001,
        saddleHeight: 1.001,
        nutHeight: 1.01,
        ...(friction === "none" ? { behindNut: 1.05 } : {}),
      },
    },
    (slip) => {
      const by = (name: string) => slip[name] ?? 1;
      const s: FrettingString = {
        string: 2,
        design: { ...wire, bendingStiffness: 0, axialStiffness: axialStiffness * by("axialStiffness") },
        openFrequency: pitch,
        scaleLength: scale,
        fretPlace,
        crownHeight: new Float64Array(fretPlace.length),
        nutHeight: nutHeight * by("nutHeight"),
        saddleHeight: saddleHeight * by("saddleHeight"),
        behindNut: 0.09 * by("behindNut"),
        behindSaddle: 0.015,
        friction,
        finger: { behind: { kind: "share", share: 0.5, most: 1e-6 }, depth: 4e-9 },
      };
      return Array.from({ length: 20 }, (_, i) => opened(frettedPitch(s, i + 1)).cents);
    },
  );
