import type { Entry, Handle } from "./handle.ts";
import { wayWords } from "./handle.ts";
import type { Setting } from "./settings.ts";
import { shownAngle, shownLength, typedLength, type Units } from "./typed.ts";

/**
 * What a drag did, for the history: "ray 3, bass waist, bass end: 4 mm towards the tail"; where it sets one figure, that figure:
 * "depth at the tail: 108.0 mm to 104.5 mm".
 */
export function dragCause(
  handle: Handle,
  to: Handle["at"],
  settings: readonly Setting[],
  units: Units,
): string {
  const [only, another] = settings;
  const entry = handle.entries.find(({ id }) => id === only?.path);
  if (another === undefined && entry !== undefined && (only?.kind === "length" || only?.kind === "angle"))
    return entryCause(handle, entry, only.value, units);
  const way = wayWords(handle.at, to, (length) => typedLength(round(length, units), units));
  return handle.view === "plan" && way !== null ? `${handle.name}: ${way}` : `${handle.name} moved`;
}

/** What an exact entry did: "ray 3, bass waist: height 8.2 mm to 7.6 mm". */
export function entryCause(handle: Pick<Handle, "name">, entry: Entry, value: number, units: Units): string {
  const say = (v: number): string => (entry.kind === "angle" ? shownAngle(v) : shownLength(v, units));
  return `${handle.name}: ${entry.label} ${say(entry.value)} to ${say(value)}`;
}

/** To what a rule shows: half a millimetre, a 64th of an inch. */
function round(length: number, units: Units): number {
  const step = units === "metric" ? 1e-4 : 0.0254 / 64;
  return Math.round(length / step) * step;
}
