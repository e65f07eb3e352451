/**
 * Examples A and B made of the same wood (examples/offset-hole.ts compares them): A as it is; B's shape, hole, braces and scale in A's wood,
 * thicknesses, finish, strings and fittings.
 */
import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened, quiet } from "#engine/numerics";
import {
  alone,
  type BodySettings,
  computeVoice,
  instrumentGeometry,
  stageJobs,
  stringSet,
  type Voice,
} from "#engine/pipeline";
import { wasmKernels } from "#kernels";

type Json = Record<string, unknown>;

const read = (name: string): Json =>
  JSON.parse(readFileSync(new URL(`${name}.fairbout.json`, import.meta.url), "utf8")) as Json;

const part = (of: Json, name: string): Json => of[name] as Json;

/** Takes the named values of one record into another. */
function take(to: Json, from: Json, names: readonly string[]): void {
  for (const name of names) {
    if (from[name] === undefined) delete to[name];
    else to[name] = from[name];
  }
}

/** Example A. */
export function offsetRadial(): Json {
  return read("low-radial");
}

/** Example B in A's wood. */
export function centredCrossed(): Json {
  const a = read("low-radial");
  const b = read("cross-braced");
  const braceWood = (part(a, "top")["braces"] as Json[])[0]!["wood"];
  b["name"] = "Cross-braced, in the wood of Low radial";
  take(part(b, "strings"), part(a, "strings"), [
    "tuningReference",
    "set",
    "tuningName",
    "tunings",
    "action",
    "pluckPlace",
  ]);
  take(part(b, "neck"), part(a, "neck"), [
    "wood",
    "mass",
    "centreFromBody",
    "thickness",
    "profile",
    "head",
    "rods",
  ]);
  take(part(b, "fingerboard"), part(a, "fingerboard"), ["wood", "thickness"]);
  for (const plate of ["top", "back"]) {
    take(part(b, plate), part(a, plate), ["wood", "thickness"]);
    (part(b, plate)["dome"] as Json)["radius"] = (part(a, plate)["dome"] as Json)["radius"];
    for (const brace of part(b, plate)["braces"] as Json[]) brace["wood"] = braceWood;
  }
  take(part(b, "sides"), part(a, "sides"), ["wood", "thickness", "plies", "topLining", "backLining"]);
  take(part(b, "bridge"), part(a, "bridge"), ["wood", "thickness", "mass", "hardwareMass"]);
  take(b, a, ["saddle", "finish", "fittings", "climate", "targets"]);
  for (const block of ["neck", "tail"])
    (part(b, "blocks")[block] as Json)["wood"] = (part(a, "blocks")[block] as Json)["wood"];
  delete b["log"];
  return b;
}

/** Throws if the document is refused. */
export async function voiceOf(document: Json, settings: BodySettings): Promise<Voice> {
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const geometry = opened(instrumentGeometry(checked.build, checked.plan));
  const strings = opened(stringSet(checked.build));
  const stages = { stage: () => ({ ...quiet, kernels: wasmKernels }) };
  return opened(await computeVoice(checked.build, geometry, strings, alone(stageJobs), settings, stages));
}
