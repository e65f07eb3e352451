import type { BoardString } from "#engine/notes";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";

/** The strings as the note board takes them. */
export function boardStrings(geometry: InstrumentGeometry, strings: readonly SetString[]): BoardString[] {
  return strings.map((s, i) => ({
    string: s.string,
    frequency: s.frequency,
    design: s.design,
    scaleLength: s.scaleLength,
    fretDistance: geometry.board.strings[i]!.fretDistance,
  }));
}
