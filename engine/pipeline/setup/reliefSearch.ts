import type { Build } from "#engine/instrument";
import type { InstrumentGeometry } from "../geometry.ts";
import { pluckedString, pluckOf } from "./buzzTable.ts";
import { stringsOverBoard } from "./stringsOverBoard.ts";

/** What one relief does under a normal pluck, the action over fret 12 kept. */
export interface TriedRelief {
  /** m */
  readonly relief: number;
  /** Least distance from a crown ahead over all notes, m. */
  readonly leastClearance: number;
  readonly buzzingNotes: number;
}

/** m */
const step = 5e-5;
const mostRelief = 4e-4;

/** Reliefs from none to 0.4 mm, and the stated one; empty on a board where no fret lies ahead of another. */
export function triedReliefs(build: Build, geometry: InstrumentGeometry): readonly TriedRelief[] {
  const even = Array.from({ length: Math.round(mostRelief / step) + 1 }, (_, k) => k * step);
  const reliefs = even.some((r) => Math.abs(r - build.neck.relief) < step / 100)
    ? even
    : [...even, build.neck.relief].sort((a, b) => a - b);
  return reliefs.flatMap((relief): TriedRelief[] => {
    const over = stringsOverBoard(build, geometry, relief);
    if (!over.ok) return [];
    const plucked = over.value.map((s) => pluckedString(s, pluckOf(build, "normal", s.scaleLength)));
    const worst = plucked.flatMap(({ worst }) => (worst === null ? [] : [worst.clearance]));
    if (worst.length === 0) return [];
    return [
      {
        relief,
        leastClearance: Math.min(...worst),
        buzzingNotes: plucked.reduce((sum, { buzzing }) => sum + buzzing.length, 0),
      },
    ];
  });
}
