/** Hearing the computed instrument. `playNote` is for the note board. */
import { listenDeeds } from "./listen.ts";
import type { Side } from "./listenTypes.ts";

export { BesidePicker } from "./BesidePicker.tsx";
export { useBeside } from "./besideChoice.ts";
export { ListenLine } from "./ListenLine.tsx";

/** Sounds a note of the board; with `side`, that one of a comparison. To be called from what the user did. */
export function playNote(string: number, fret: number, side?: Side): void {
  if (side !== undefined) listenDeeds.choose(side);
  listenDeeds.playNote(string, fret);
}
