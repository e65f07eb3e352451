/**
 * How does the model stand beside published figures of classical guitars? JANSSON-2002 (resonances of the air in a rigid
 * body, holograms of one top) and CHRISTENSEN-1980 (lowest resonances of one guitar, ranges over several) give frequencies, but
 * not the geometry: so a guitar of usual size is assumed (examples/classicalGuitar.ts), nothing is tuned, and no number is to be
 * reached. docs/published-guitar.md tells the reasons for the gaps.
 * Run: node tools/run.mjs examples/published-guitar.ts [mesh size in mm]
 */
import { readFileSync } from "node:fs";
import { opened, quiet } from "#engine/numerics";
import { alone, defaultBodySettings, madeBody, type Stages, stageJobs, strungShell } from "#engine/pipeline";
import { responseCurve } from "#engine/response";
import { bodyModes, joinedSystem } from "#engine/shells";
import { wasmKernels } from "#kernels";
import { bodyInState } from "../engine/pipeline/body/wholeBody.ts";
import { boxOfAir, classicalGuitar, rigidBoxFrequencies } from "./classicalGuitar.ts";

const size = Number(process.argv[2] ?? 8.2) / 1000;
const settings = { ...defaultBodySettings, meshSize: { top: size, back: size, side: 1.7 * size } };
const stages: Stages = { stage: () => ({ ...quiet, kernels: wasmKernels }) };
const crew = alone(stageJobs);
const ctx = stages.stage("all", 0, 1);

interface CheckValue {
  readonly id: string;
  readonly value: unknown;
}
const checkValues = JSON.parse(
  readFileSync(new URL("../proofs/reference/check-values.json", import.meta.url), "utf8"),
) as readonly CheckValue[];
const published = <T>(id: string): T => checkValues.find((v) => v.id === id)!.value as T;

const hz = (value: number): string => value.toFixed(0);
const gap = (ours: number, theirs: number): string =>
  `${ours >= theirs ? "+" : "-"}${Math.abs(100 * (ours / theirs - 1)).toFixed(0)} %`;
const within = (ours: number, [low, high]: readonly [number, number]): string =>
  ours < low ? `${gap(ours, low)} of its foot` : ours > high ? `${gap(ours, high)} of its top` : "inside";
const print = (title: string, head: readonly string[], rows: readonly (readonly string[])[]): void => {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |\n`;
  process.stdout.write(`\n${title}\n\n${line(head)}${line(head.map(() => "---"))}${rows.map(line).join("")}`);
};

const guitar = classicalGuitar();
const { build, geometry, strings } = guitar;

const air = boxOfAir(guitar, ctx);
const body = opened(await bodyInState(build, geometry, strings, "bridged", settings, crew, stages));
const { response, parts, modes } = body;
const { cavity } = parts;
if (cavity === null) throw new Error("the box has no air");

// 1. the air in a box whose walls do not move
const theirAir = published<number[]>("couple.jansson.air");
const shut = Array.from(cavity.omega, (w) => w / (2 * Math.PI)).slice(1);
const [helmholtz, ...open] = rigidBoxFrequencies(cavity);
/** The fourth of ours has no partner: two of ours lie close together where theirs has one. */
const partners = [0, 1, 2, 4, 5];
print(
  "Air in a rigid box, Hz (JANSSON-2002)",
  ["theirs", "ours, hole shut", "ours, hole open", "gap, shut", "gap, open"],
  [
    ["(hole's own)", "", hz(helmholtz!), "", ""],
    ...theirAir.map((f, i) => {
      const [s, o] = [shut[partners[i]!]!, open[partners[i]!]!];
      return [hz(f), hz(s), hz(o), gap(s, f), gap(o, f)];
    }),
    ["none", hz(shut[3]!), hz(open[3]!), "", ""],
  ],
);
process.stdout.write(
  `\nvolume ${(1000 * air.netVolume).toFixed(2)} l net, speed of sound ${air.air.soundSpeed.toFixed(1)} m/s\n`,
);

// 2. the box with its air
const index = (name: string): number => response.name.indexOf(name as (typeof response.name)[number]);
const [mainAir, mainTop] = [index("main air"), index("main top")];
const [fMinus, fPlus] = [response.frequency[mainAir]!, response.frequency[mainTop]!];
/** Between the two the top is held still by the air: where the saddle moves least. */
const between = Float64Array.from({ length: 2000 }, (_, i) => fMinus + ((fPlus - fMinus) * (i + 0.5)) / 2000);
const moved = responseCurve(response, between).mobility;
const still = between[moved.indexOf(Math.min(...moved))]!;
const uncoupled = Math.sqrt(fPlus ** 2 + fMinus ** 2 - still ** 2);
const share = response.partShare;
const topModes = Array.from(response.frequency.keys()).filter((i) => share[5 * i]! > 0.5);
const second = topModes.find((i) => response.frequency[i]! > fPlus)!;
const one = published<Record<"f_minus" | "f_h" | "f_plus" | "Q_minus" | "Q_plus", number>>("couple.cv80");
const [theirPlate] = published<number[]>("couple.cv80.fp");
const ranges =
  published<Record<"f_minus" | "f_h" | "f_plus" | "T2", readonly [number, number]>>("couple.ranges");
const range = ([low, high]: readonly [number, number]): string => `${low} to ${high}`;
print(
  "The box with its air (CHRISTENSEN-1980)",
  ["", "their one guitar", "their range", "ours", "gap to the one", "in the range"],
  [
    [
      "first resonance, Hz",
      hz(one.f_minus),
      range(ranges.f_minus),
      hz(fMinus),
      gap(fMinus, one.f_minus),
      within(fMinus, ranges.f_minus),
    ],
    [
      "antiresonance between the two, Hz",
      hz(one.f_h),
      range(ranges.f_h),
      hz(still),
      gap(still, one.f_h),
      within(still, ranges.f_h),
    ],
    ["hole with every wall still, Hz", "", "", hz(helmholtz!), "", ""],
    [
      "second resonance, Hz",
      hz(one.f_plus),
      range(ranges.f_plus),
      hz(fPlus),
      gap(fPlus, one.f_plus),
      within(fPlus, ranges.f_plus),
    ],
    [
      "plate uncoupled, Hz",
      theirPlate!.toFixed(1),
      "",
      uncoupled.toFixed(1),
      gap(uncoupled, theirPlate!),
      "",
    ],
    [
      "second top mode, Hz",
      "",
      range(ranges.T2),
      hz(response.frequency[second]!),
      "",
      within(response.frequency[second]!, ranges.T2),
    ],
    ["Q of the first", `${one.Q_minus}`, "", hz(response.q[mainAir]!), "", ""],
    ["Q of the second", `${one.Q_plus}`, "", hz(response.q[mainTop]!), "", ""],
  ],
);

// 3. the top: on its rim without back and neck (in vacuo), and in the box
const onRim = {
  ...strungShell(build, geometry, strings),
  back: null,
  neck: null,
  rods: [],
  masses: [],
  springs: [],
};
const made = opened(await madeBody(onRim, settings, crew, ctx));
const alonePoints = build.strings.map(({ crown: [x, y] }) => ({ part: "top" as const, x, y, height: 0 }));
const system = opened(joinedSystem(made.spec, made.mesh, made.plates));
const rim = opened(bodyModes(system, alonePoints, 900, ctx));
const rimTop = Array.from(rim.omega.keys()).filter((i) => rim.energyShare[4 * i]! > 0.5);
print(
  "Modes in which the top has more than half of the moving energy, to 700 Hz, beside JANSSON-2002's holograms of one top",
  ["", "Hz"],
  [
    ["theirs", published<number[]>("couple.jansson.top").map(hz).join(", ")],
    [
      "ours, on the rim, no back, in vacuo",
      rimTop
        .map((i) => rim.omega[i]! / (2 * Math.PI))
        .filter((f) => f < 700)
        .map(hz)
        .join(", "),
    ],
    [
      "ours, in the box with air",
      topModes
        .map((i) => response.frequency[i]!)
        .filter((f) => f < 700)
        .map(hz)
        .join(", "),
    ],
  ],
);
const losses = (mode: number): string =>
  [0, 1, 2].map((k) => (100 * response.lossShare[3 * mode + k]!).toFixed(0)).join(", ");
process.stdout.write(
  `\nloss in wood, at hole and walls, radiated, %: first ${losses(mainAir)}; second ${losses(mainTop)}\n`,
);
process.stdout.write(
  `\n${body.counts.shellNodes} shell nodes, ${modes.count} modes; mass ${modes.totalMass.toFixed(2)} kg\n`,
);
print(
  "All modes of the box to 400 Hz",
  ["Hz", "Q", "name", "top", "back", "sides", "neck", "air"],
  Array.from(response.frequency.keys())
    .filter((i) => response.frequency[i]! < 400)
    .map((i) => [
      response.frequency[i]!.toFixed(1),
      hz(response.q[i]!),
      response.name[i] ?? "",
      ...[0, 1, 2, 3, 4].map((k) => share[5 * i + k]!.toFixed(2)),
    ]),
);
