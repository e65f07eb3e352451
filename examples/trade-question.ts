/**
 * A question of the trade: does the upper third of a top with crossed braces and a centre hole lie idle, and does it move more with
 * the hole at the edge and radial braces (common practice, no source)? Five variants of example B with its own outline and
 * wood: hole in the centre or at the edge, crossed or radial braces, and at last the fingerboard raised clear of the top.
 *
 * Prints upperThirdShare (the share of the top's mean square motion between 80 Hz and 1 kHz that lies in its upper third, for
 * 1 N rms at each crown in turn) in all and by third octaves. Nothing is tuned: each variant is the same guitar
 * but for the parts named. Run: node tools/run.mjs examples/trade-question.ts [nodes a plate]
 */
import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { computeVoice, instrumentGeometry, stringSet } from "#engine/pipeline";

type Json = Record<string, unknown>;

const exampleB = readFileSync(new URL("cross-braced.fairbout.json", import.meta.url), "utf8");

/** A hole of the same area at the bass side of the upper bout. */
const edgeHole = {
  kind: "ellipse",
  centre: ["402 mm", "93 mm"],
  semiAxes: ["60 mm", "43.35 mm"],
  lip: { thickness: "2.8 mm", chamfer: "0.5 mm" },
};

const hubCentre = 206;
const hubAxes = [36, 58] as const;
/** Directions of the seven rays, degrees from the neck, bass side positive; the foremost pass either side of a centre hole. */
const rayDirections = [26, -26, 78, -78, 128, -128, 180];

/** Seven rays from a hub patch; section and height are those of example A's rays, wood that of example B's braces. */
function radial(document: Json): void {
  const top = document["top"] as Json;
  const wood = (top["braces"] as Json[])[0]!["wood"];
  const names = rayDirections.map((degrees) => `ray at ${degrees}`);
  const millimetres = (x: number, y: number) => [`${x.toFixed(1)} mm`, `${y.toFixed(1)} mm`];
  top["braces"] = rayDirections.map((degrees, i) => {
    const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const start = 1 / Math.hypot(c / (hubAxes[0] - 3), s / (hubAxes[1] - 3));
    return {
      name: names[i],
      wood,
      from: millimetres(hubCentre + start * c, start * s),
      // past the edge: clipped there
      to: millimetres(hubCentre + 300 * c, 300 * s),
      width: "7 mm",
      height: "11 mm",
      section: { kind: "parabolic", wall: 0.5 },
      profile: { kind: "tapered", tipHeight: ["9 mm", "2.5 mm"], tipLength: ["14 mm", "55 mm"] },
      ends: ["hub", "let-in"],
    };
  });
  top["hub"] = {
    kind: "patch",
    patch: {
      name: "hub patch",
      wood: "Spruce, Sitka",
      thickness: "2.8 mm",
      grainAngle: "90 deg",
      shape: {
        kind: "ellipse",
        centre: [`${hubCentre} mm`, "0 mm"],
        semiAxes: [`${hubAxes[0]} mm`, `${hubAxes[1]} mm`],
      },
    },
    joint: "each ray is let into the patch and capped with cloth",
    braces: names,
  };
  delete top["crossings"];
  delete document["bridgePlate"];
}

function edge(document: Json): void {
  document["soundHole"] = edgeHole;
}

/** The board stands clear of the top; without it the patch under the board has no work to do. */
function raised(document: Json): void {
  const board = document["fingerboard"] as Json;
  board["overTop"] = "clear";
  board["heightOverTop"] = "5 mm";
  delete (document["top"] as Json)["patches"];
}

/** The five variants by name, in the order of the steps; each is example B with these parts changed. */
export const variants: Readonly<Record<string, readonly ((document: Json) => void)[]>> = {
  "centre hole, crossed braces": [],
  "edge hole, crossed braces": [edge],
  "centre hole, radial braces": [radial],
  "edge hole, radial braces": [edge, radial],
  "edge hole, radial braces, raised board": [edge, radial, raised],
};

/** Share of the upper third for one variant, in all and by third octave. */
export function activeTop(name: string, nodesPerPlate: number) {
  const document = JSON.parse(exampleB) as Json;
  for (const change of variants[name]!) change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok)
    throw new Error(`${name}: ${checked.issues.map((i) => `${i.path} ${i.message}`).join("; ")}`);
  const geometry = opened(instrumentGeometry(checked.build, checked.plan));
  const strings = opened(stringSet(checked.build));
  const voice = opened(computeVoice(checked.build, geometry, strings, { nodesPerPlate, modesPerPlate: 60 }));
  return voice;
}

if (process.argv[1]?.endsWith("run.mjs")) {
  const nodes = Number(process.argv[2] ?? 2500);
  const voices = Object.keys(variants).map((name) => [name, activeTop(name, nodes)] as const);
  const bands = voices[0]![1].activeTop.byThirdOctave.map(({ centreHz }) => centreHz);
  const row = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  process.stdout.write(
    `${row(["variant", "main air Hz", "main top Hz", "80 to 1,000 Hz", ...bands.map((hz) => `${hz}`)])}\n${row(
      Array.from({ length: bands.length + 4 }, () => "---"),
    )}\n`,
  );
  for (const [name, voice] of voices) {
    const { response } = voice.body;
    const of = (mode: "main air" | "main top") => {
      const i = response.name.indexOf(mode);
      return i < 0 ? "none" : response.frequency[i]!.toFixed(0);
    };
    const percent = (share: number) => (100 * share).toFixed(0);
    process.stdout.write(
      `${row([name, of("main air"), of("main top"), `${(100 * voice.activeTop.total).toFixed(1)} %`, ...voice.activeTop.byThirdOctave.map(({ share }) => percent(share))])}\n`,
    );
  }
}
