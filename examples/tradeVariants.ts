/**
 * Five variants of example B for a question of the trade (examples/trade-question.ts asks it): hole in the centre or at the edge, crossed or
 * radial braces, and at last the fingerboard raised clear of the top. Each is the same guitar but for the parts named.
 */
import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import {
  alone,
  computeVoice,
  defaultBodySettings,
  instrumentGeometry,
  stageJobs,
  stringSet,
  type Voice,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";

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

/** Two more steps: the board raised alone. */
export const sideSteps: typeof variants = {
  "centre hole, crossed braces, raised board": [raised],
  "edge hole, crossed braces, raised board": [edge, raised],
};

/** The voice of one variant, its plates meshed `size` fine (m). Throws if the document is refused. */
export async function variantVoice(name: string, size: number): Promise<Voice> {
  const document = JSON.parse(exampleB) as Json;
  for (const change of (variants[name] ?? sideSteps[name])!) change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok)
    throw new Error(`${name}: ${checked.issues.map((i) => `${i.path} ${i.message}`).join("; ")}`);
  const geometry = opened(instrumentGeometry(checked.build, checked.plan));
  const strings = opened(stringSet(checked.build));
  const settings = { ...defaultBodySettings, meshSize: { top: size, back: size, side: 1.7 * size } };
  const stages = { stage: () => ({ ...quiet, kernels: wasmKernels }) };
  return opened(await computeVoice(checked.build, geometry, strings, alone(stageJobs), settings, stages));
}
