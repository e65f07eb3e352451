import { type Build, checkInstrument } from "#engine/instrument";
import type { InstrumentGeometry, SetString } from "#engine/pipeline";
import { type Answer, refusal } from "./answer.ts";
import { readText } from "./input.ts";

/** A document read, checked, realised and laid out in plan: what every verb starts from. */
export interface OpenInstrument {
  /** As the maker named the file. */
  readonly path: string;
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  /** What is worth a look in the document but stops nothing, in words. */
  readonly remarks: readonly string[];
}

/**
 * Opens the instrument at `path` and hands it to `use`, or answers with everything that is wrong with it. The stages
 * behind the check are loaded only when it passed: a refusal need not wait for the finite elements.
 */
export async function withInstrument(
  path: string,
  json: boolean,
  use: (instrument: OpenInstrument) => Answer | Promise<Answer>,
): Promise<Answer> {
  const file = readText(path);
  if (!file.ok) return refusal(path, [{ path: "", message: file.message }], json);
  const checked = checkInstrument(file.text);
  if (!checked.ok) return refusal(path, checked.issues, json);
  const { build, plan } = checked;
  const { instrumentGeometry, stringSet } = await import("#engine/pipeline");
  const geometry = instrumentGeometry(build, plan);
  if (!geometry.ok) return refusal(path, [{ path: "fingerboard", message: geometry.detail }], json);
  const strings = stringSet(build);
  if (!strings.ok) return refusal(path, [{ path: "strings", message: strings.detail }], json);
  const remarks = [
    ...checked.watch.map(({ path: place, message }) => `${place}: ${message}`),
    ...strings.warnings.map(({ detail }) => detail),
  ];
  return use({ path, build, geometry: geometry.value, strings: strings.value, remarks });
}
