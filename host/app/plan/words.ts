import type { Handle } from "./handle.ts";
import { shownLength, type Units } from "./typed.ts";

/** Where a handle is, to be read or heard: "249.5 mm from the tail, 37.7 mm to the bass side". */
export function handleWords(handle: Pick<Handle, "at" | "free" | "view">, units: Units): string {
  const [a, b] = handle.at;
  if (handle.view === "profile")
    return [
      ...(handle.free[0] ? [`${shownLength(a, units)} from the start`] : []),
      ...(handle.free[1] ? [`${shownLength(b, units)} high`] : []),
    ].join(", ");
  if (handle.view === "side")
    return `${shownLength(Math.abs(b), units)} ${b < 0 ? "under" : "over"} the top's edge`;
  if (handle.view === "across")
    return `${shownLength(Math.abs(b), units)} ${b < 0 ? "under" : "over"} the top's edge, ${across(a, units)}`;
  const parts = [
    ...(handle.free[0] || !handle.free[1] ? [`${shownLength(a, units)} from the tail`] : []),
    ...(handle.free[1] ? [across(b, units)] : []),
  ];
  return parts.join(", ");
}

function across(y: number, units: Units): string {
  if (Math.abs(y) < 5e-5) return "on the centreline";
  return `${shownLength(Math.abs(y), units)} to the ${y > 0 ? "bass" : "treble"} side`;
}
