import { readdirSync, readFileSync } from "node:fs";
import { opened } from "#engine/numerics";
import { designString, type FrettingString, frettedPitch } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";

/** A case of proofs/reference/fretting-cases-own: see its README. */
interface Case {
  readonly id: string;
  readonly linearDensity: number;
  readonly bendingStiffness: number;
  readonly axialStiffness: number;
  readonly openFrequency: number;
  readonly scaleLength: number;
  readonly fretPlace: readonly number[];
  readonly crownHeight: readonly number[];
  readonly nutHeight: number;
  readonly saddleHeight: number;
  readonly nutOffset: number;
  readonly saddleOffset: number;
  readonly behindNut: number;
  readonly behindSaddle: number;
  readonly friction: "none" | "full";
  readonly fret: number;
  readonly fingerBehind: number;
  readonly fingerDepth: number;
  readonly expected: {
    readonly openTension: number;
    readonly tension: number;
    readonly cents: number;
    readonly fingerForce: number;
    readonly crownForce: number;
  };
}

const folder = new URL("../reference/fretting-cases-own/", import.meta.url);
const cases: readonly Case[] = readdirSync(folder)
  .filter((name) => name.endsWith(".json"))
  .sort()
  .map((name) => JSON.parse(readFileSync(new URL(name, folder), "utf8")));

/** Fields that a fretted pitch does not depend on: any real string will do. */
const anyDesign = opened(designString({ kind: "plain", diameter: 0.3e-3, material: "steel" }));

function stringOf(c: Case, slip: Slips): FrettingString {
  const by = (name: string) => slip[name] ?? 1;
  return {
    string: 1,
    design: {
      ...anyDesign,
      linearDensity: c.linearDensity,
      bendingStiffness: c.bendingStiffness * by("bendingStiffness"),
      axialStiffness: c.axialStiffness * by("axialStiffness"),
    },
    openFrequency: c.openFrequency,
    scaleLength: c.scaleLength,
    fretPlace: Float64Array.from(c.fretPlace),
    crownHeight: Float64Array.from(c.crownHeight),
    nutHeight: c.nutHeight,
    saddleHeight: c.saddleHeight,
    behindNut: c.behindNut * by("behindNut"),
    behindSaddle: c.behindSaddle * by("behindSaddle"),
    friction: by("friction") === 1 ? c.friction : c.friction === "none" ? "full" : "none",
    finger: {
      behind: { kind: "share", share: 0.999, most: c.fingerBehind * by("fingerBehind") },
      depth: c.fingerDepth * by("fingerDepth"),
    },
  };
}

const pitchOf = (c: Case, slip: Slips) =>
  opened(
    frettedPitch(stringOf(c, slip), c.fret, {
      nut: c.nutOffset,
      saddle: c.saddleOffset * (slip["saddleOffset"] ?? 1),
    }),
  );

const because =
  "what the task asks: the smallest pitch difference that a luthier's meter shows is ten times larger";

proof(
  "a string pressed behind a fret: cents of 20 random set-ups against the full boundary-value problem",
  {
    source: "FRETTING-CASES-OWN",
    quoted: cases.map((c) => c.expected.cents),
    absTol: 0.1,
    because,
    mustNotice: {
      axialStiffness: 1.02,
      bendingStiffness: 1.05,
      fingerDepth: 1.02,
      fingerBehind: 0.97,
      saddleOffset: 1.03,
      behindNut: 1.2,
      friction: 2,
    },
  },
  (slip) => {
    if (cases.length !== 20) throw new Error(`${cases.length} cases`);
    return cases.map((c) => pitchOf(c, slip).cents);
  },
);

proof(
  "a string pressed behind a fret: open and fretted tension of the same set-ups",
  {
    source: "FRETTING-CASES-OWN",
    quoted: cases.flatMap(({ expected: e }) => [e.openTension, e.tension]),
    relTol: 5e-5,
    because: "0.1 cent is 1.2e-4 of the pull",
    mustNotice: { axialStiffness: 1.02, fingerDepth: 1.02, bendingStiffness: 1.05 },
  },
  (slip) => cases.flatMap((c) => [pitchOf(c, slip).openTension, pitchOf(c, slip).tension]),
);

proof(
  "a string pressed behind a fret: forces of finger and crown of the same set-ups",
  {
    source: "FRETTING-CASES-OWN",
    quoted: cases.flatMap(({ expected: e }) => [e.fingerForce, e.crownForce]),
    relTol: 8e-3,
    because:
      "the model is of second order in slopes of up to 0.07 at the finger: forces hold to about their square",
    mustNotice: { fingerDepth: 1.015, fingerBehind: 0.98, bendingStiffness: 1.1 },
  },
  (slip) => cases.flatMap((c) => [pitchOf(c, slip).fingerForce, pitchOf(c, slip).crownForce]),
);
