/**
 * A classical guitar of usual size for comparison with published figures whose authors do not give their geometry
 * (examples/published-guitar.ts). Every number here is common practice, from memory, no source; docs/published-guitar.md lists them. Made from the
 * small ladder-braced example by changing shape, hole, top, back, sides and bridge. Its strings are the example's (the
 * document knows no nylon): compare in the state "bridged", which has none.
 */
import { readFileSync } from "node:fs";
import { type CavityModes, cavityModes } from "#engine/air";
import { checkInstrument } from "#engine/instrument";
import { type Context, generalizedSymmetricEigen, opened } from "#engine/numerics";
import { defaultBodySettings, instrumentGeometry, stringSet } from "#engine/pipeline";
import { cavitySpec } from "../engine/pipeline/structure/boxAir.ts";

type Json = Record<string, unknown>;

const smallLadder = readFileSync(new URL("small-ladder.fairbout.json", import.meta.url), "utf8");

const spruce = "Spruce, European";
const rosewood = "Rosewood, Indian";
const mahogany = "Mahogany, Honduras";

const mm = (value: number): string => `${value} mm`;

function bar(name: string, x: number, width: number, height: number): Json {
  return {
    name,
    wood: spruce,
    from: [mm(x), "-200 mm"],
    to: [mm(x), "200 mm"],
    width: mm(width),
    height: mm(height),
    section: { kind: "parabolic", wall: 0.5 },
    profile: { kind: "tapered", tipHeight: ["3 mm", "3 mm"], tipLength: ["40 mm", "40 mm"] },
    ends: ["let-in", "let-in"],
  };
}

/** The seven struts of the fan: from under the lower cross bar to short of the tail, spreading. */
const fan: readonly Json[] = [-3, -2, -1, 0, 1, 2, 3].map((k) => ({
  name: `fan ${k}`,
  wood: spruce,
  from: ["262 mm", mm(19 * k)],
  to: [mm(45 + 4 * k * k), mm(36 * k)],
  width: "6 mm",
  height: "4.5 mm",
  section: { kind: "parabolic", wall: 0.4 },
  profile: { kind: "tapered", tipHeight: ["2 mm", "2 mm"], tipLength: ["30 mm", "30 mm"] },
  ends: ["stopped", "stopped"],
}));

/** What is changed of the small ladder-braced example. */
const changes: Json = {
  name: "Classical guitar of usual size",
  outline: {
    kind: "dimensions",
    length: "485 mm",
    lowerBout: { width: "365 mm", station: "136 mm" },
    waist: { width: "235 mm", station: "293 mm" },
    upperBout: { width: "280 mm", station: "396 mm" },
  },
  soundHole: { kind: "ellipse", centre: ["335 mm", "0 mm"], semiAxes: ["43 mm", "43 mm"] },
  top: {
    wood: spruce,
    thickness: "2.4 mm",
    dome: { radius: "10 m", apex: ["160 mm", "0 mm"] },
    braces: [
      ...fan,
      bar("lower cross bar", 275, 7, 15),
      bar("upper cross bar", 392, 7, 15),
      bar("bar under the board", 432, 7, 12),
    ],
    patches: [
      {
        name: "ring of the hole, bass side",
        wood: spruce,
        thickness: "1.5 mm",
        grainAngle: "0 deg",
        shape: {
          kind: "polygon",
          points: [
            ["290 mm", "46 mm"],
            ["380 mm", "46 mm"],
            ["380 mm", "66 mm"],
            ["290 mm", "66 mm"],
          ],
        },
      },
      {
        name: "ring of the hole, treble side",
        wood: spruce,
        thickness: "1.5 mm",
        grainAngle: "0 deg",
        shape: {
          kind: "polygon",
          points: [
            ["290 mm", "-66 mm"],
            ["380 mm", "-66 mm"],
            ["380 mm", "-46 mm"],
            ["290 mm", "-46 mm"],
          ],
        },
      },
    ],
  },
  back: {
    wood: rosewood,
    thickness: "2.3 mm",
    dome: { radius: "5 m", apex: ["215 mm", "0 mm"] },
    braces: [bar("back bar 1", 105, 8, 14), bar("back bar 2", 230, 8, 14), bar("back bar 3", 370, 8, 14)],
  },
  sides: {
    wood: rosewood,
    thickness: "2.1 mm",
    depthAtTail: "98 mm",
    depthAtNeck: "90 mm",
    topLining: { kind: "kerfed", wood: mahogany, width: "6 mm", height: "14 mm" },
    backLining: { kind: "kerfed", wood: mahogany, width: "6 mm", height: "14 mm" },
  },
  bridge: {
    wood: rosewood,
    length: "190 mm",
    width: "28 mm",
    saddleFromFront: "8 mm",
    thickness: "8 mm",
    wings: { length: "55 mm", thickness: "3 mm" },
    hardwareMass: "0 g",
    anchor: "tie",
  },
  blocks: {
    neck: { wood: mahogany, along: "30 mm", across: "70 mm", height: "90 mm" },
    tail: { wood: spruce, along: "15 mm", across: "70 mm", height: "98 mm" },
  },
};

/** The document, checked and laid out. `change` is put in last. Throws if it is refused. */
export function classicalGuitar(change: (document: Json) => void = () => {}) {
  const document = { ...(JSON.parse(smallLadder) as Json), ...structuredClone(changes) };
  delete document["bridgePlate"];
  (document["strings"] as Json)["scale"] = { kind: "parallel", length: "650 mm" };
  (document["fingerboard"] as Json)["wood"] = rosewood;
  (document["neck"] as Json)["wood"] = mahogany;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  return { build, geometry, strings: opened(stringSet(build)) };
}

/** The air in its box, every wall still, the hole's outer end under a rough guess (between no flange and an endless one). */
export function boxOfAir({ build, geometry }: ReturnType<typeof classicalGuitar>, ctx: Context): CavityModes {
  return opened(cavityModes(opened(cavitySpec(build, geometry.plan, defaultBodySettings.cavity)), ctx));
}

type Box = Pick<CavityModes, "count" | "omega" | "volume" | "air"> & {
  readonly aperture: Pick<NonNullable<CavityModes["aperture"]>, "count" | "coupling" | "inertance"> | null;
};

/**
 * Resonances of the air in a box whose walls do not move, Hz ascending: with the hole open, the lowest is the hole's.
 * The undamped problem of the opening's patterns x and the cavity's modes y_n (docs/theory-whole-body.md):
 * sum kappa_n (y_n - S_n x)^2 / 2 against the inertance of the opening and kappa_n / omega_n^2.
 */
export function rigidBoxFrequencies({ count, omega, volume, aperture, air }: Box): number[] {
  if (aperture === null) throw new Error("the box has no hole");
  const a = aperture.count;
  const n = a + count - 1;
  const stiffness = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  for (let i = 0; i < a; i++) for (let j = 0; j < a; j++) mass[i * n + j] = aperture.inertance[i * a + j]!;
  for (let k = 0; k < count; k++) {
    const kappa = (air.density * air.soundSpeed ** 2) / volume[k]!;
    const row = new Float64Array(n);
    for (let i = 0; i < a; i++) row[i] = -aperture.coupling[i * count + k]!;
    if (k > 0) {
      row[a + k - 1] = 1;
      mass[(a + k - 1) * (n + 1)] = kappa / omega[k]! ** 2;
    }
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) stiffness[i * n + j]! += kappa * row[i]! * row[j]!;
  }
  const { values } = opened(generalizedSymmetricEigen(stiffness, mass, n));
  // patterns without net flow move no air but their own: a - 1 zeros come first
  return Array.from(values.subarray(a - 1), (v) => Math.sqrt(v) / (2 * Math.PI));
}
