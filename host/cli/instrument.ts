import { type Build, checkInstrument } from "#engine/instrument";
import { type InstrumentGeometry, instrumentGeometry, type SetString, stringSet } from "#engine/pipeline";
import { type Answer, type Fault, refusal } from "./answer.ts";
import { readText } from "./input.ts";

/** A document read, checked, realised and laid out in plan: what every verb starts from. */
export interface OpenInstrument {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
}

/** Opens the instrument at `path` and hands it to `use`, or answers with everything that is wrong with it. */
export function withInstrument(
  path: string,
  json: boolean,
  use: (instrument: OpenInstrument) => Answer,
): Answer {
  const file = readText(path);
  if (!file.ok) return refusal(path, [{ path: "", message: file.message }], json);
  const checked = checkInstrument(file.text);
  if (!checked.ok) return refusal(path, checked.issues, json);
  const { build, plan } = checked;
  const geometry = instrumentGeometry(build, plan);
  if (!geometry.ok) return refusal(path, [outcomeFault("outline", geometry.detail)], json);
  const strings = stringSet(build);
  if (!strings.ok) return refusal(path, [outcomeFault("strings", strings.detail)], json);
  return use({ build, geometry: geometry.value, strings: strings.value });
}

/** A computation that refused, as a fault of the input. */
export function outcomeFault(path: string, detail: string): Fault {
  return { path, message: detail };
}
