import { done, failed, type Outcome } from "#engine/numerics";
import { partialsBelow, type StretchedString } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";
import { coupledString } from "./coupledString.ts";
import { wolfIndex } from "./wolfIndex.ts";

/** A string on a yielding bridge to compare with other programs: proofs/reference/string-cases/README.md. */
export interface StringCase {
  readonly id: string;
  readonly string: StretchedString;
  readonly body: BridgeModes;
  readonly maxFrequency: number;
  readonly pluckFromCrown: number;
}

/** What `fairbout partials` prints. */
export interface StringCaseResult {
  readonly modes: readonly { readonly frequencyHz: number; readonly q: number }[];
  readonly wolfIndex: number;
}

const mostModes = 1000;
const mostPartials = 2000;

/** A case file's content, checked; `reference` is ignored. Fails with "bad-case" and a message that names the place. */
export function readStringCase(json: unknown): Outcome<StringCase> {
  try {
    const c = record(json, "the case");
    const s = record(c["string"], "string");
    const q = positive(s["q"], "string.q");
    const string: StretchedString = {
      length: positive(s["lengthM"], "string.lengthM"),
      linearDensity: positive(s["linearDensityKgPerM"], "string.linearDensityKgPerM"),
      tension: positive(s["tensionN"], "string.tensionN"),
      bendingStiffness: number(s["bendingStiffnessNm2"], "string.bendingStiffnessNm2"),
      loss: { friction: 1 / q, bending: 1 / q, air: 0 },
    };
    if (string.bendingStiffness < 0)
      fault("string.bendingStiffnessNm2", `is ${string.bendingStiffness}; it cannot be negative`);
    const modes = c["bodyModes"];
    if (!Array.isArray(modes))
      fault("bodyModes", `is ${shown(modes)}; a list of modes is wanted (it may be empty)`);
    if (modes.length > mostModes)
      fault("bodyModes", `has ${modes.length} modes; at most ${mostModes} are taken`);
    const maxFrequency = positive(c["maxHz"], "maxHz");
    const partials = partialsBelow(string, maxFrequency);
    if (partials > mostPartials)
      fault("maxHz", `asks for ${partials} partials; at most ${mostPartials} are computed`);
    const pluckFromCrown = positive(c["pluckFromBridgeM"], "pluckFromBridgeM");
    if (pluckFromCrown >= string.length)
      fault("pluckFromBridgeM", `is ${pluckFromCrown}; the string is only ${string.length} m long`);
    return done({
      id: typeof c["id"] === "string" ? c["id"] : "",
      string,
      body: bodyOf(modes),
      maxFrequency,
      pluckFromCrown,
    });
  } catch (error) {
    if (error instanceof CaseFault) return failed("bad-case", error.message);
    throw error;
  }
}

/** All coupled modes below the case's limit and the wolf index, by the solver that serves the note board. */
export function solveStringCase(c: StringCase): Outcome<StringCaseResult> {
  const solved = coupledString(c.string, c.body, c.maxFrequency);
  if (!solved.ok) return solved;
  const { omega, decay } = solved.value;
  return done({
    modes: Array.from(omega, (w, r) => ({ frequencyHz: w / (2 * Math.PI), q: w / (2 * decay[r]!) })),
    wolfIndex: wolfIndex(c.string, c.body, c.pluckFromCrown).index,
  });
}

function bodyOf(modes: readonly unknown[]): BridgeModes {
  const omega = new Float64Array(modes.length);
  const q = new Float64Array(modes.length);
  const shape = new Float64Array(3 * modes.length);
  for (const [i, json] of modes.entries()) {
    const place = `bodyModes[${i}]`;
    const m = record(json, place);
    omega[i] = 2 * Math.PI * positive(m["frequencyHz"], `${place}.frequencyHz`);
    q[i] = positive(m["q"], `${place}.q`);
    const mass = positive(m["massKg"], `${place}.massKg`);
    const direction = m["direction"];
    if (!Array.isArray(direction) || direction.length !== 3)
      fault(`${place}.direction`, `is ${shown(direction)}; three numbers are wanted: normal, across, along`);
    const parts = direction.map((d, k) => number(d, `${place}.direction[${k}]`));
    const size = Math.hypot(...parts);
    if (Math.abs(size - 1) > 0.01)
      fault(`${place}.direction`, `has the length ${size}; a unit vector is wanted`);
    for (const [k, d] of parts.entries()) shape[3 * i + k] = d / Math.sqrt(mass);
  }
  return { omega, q, shape, residual: new Float64Array(9), pressure: new Float64Array(modes.length) };
}

class CaseFault extends Error {}

function fault(place: string, what: string): never {
  throw new CaseFault(`${place} ${what}`);
}

function record(json: unknown, place: string): Readonly<Record<string, unknown>> {
  if (typeof json !== "object" || json === null || Array.isArray(json))
    fault(place, `is ${shown(json)}; an object is wanted`);
  return json as Readonly<Record<string, unknown>>;
}

function number(json: unknown, place: string): number {
  if (typeof json !== "number" || !Number.isFinite(json))
    fault(place, `is ${shown(json)}; a number is wanted`);
  return json;
}

function positive(json: unknown, place: string): number {
  const value = number(json, place);
  if (!(value > 0)) fault(place, `is ${value}; it must be positive`);
  return value;
}

function shown(json: unknown): string {
  if (json === undefined) return "missing";
  const text = JSON.stringify(json);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
