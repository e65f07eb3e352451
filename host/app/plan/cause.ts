import type { Entry, Handle } from "./handle.ts";
import { wayWords } from "./handle.ts";
import { shownAngle, shownLength, typedLength, type Units } from "./typed.ts";

/** What a drag did, for the history: "ray 3, bass waist: bass end 4 mm towards the tail". */
export function dragCause(handle: Handle, to: Handle["at"], units: Units): string {
  if (handle.view === "plan" && handle.look !== "turn") {
    const way = wayWords(handle.at, to, (length) => typedLength(round(length, units), units));
    if (way !== null) return `${handle.name}: ${way}`;
  }
  return `${handle.name} moved`;
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
