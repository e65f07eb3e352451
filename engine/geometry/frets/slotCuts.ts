/** What the slot card tells: each slot's places measured from the nut, its diagonals, and what fret and tang are cut to. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { Point } from "../polygon.ts";
import type { BoardLayout, FretSlot } from "./boardLayout.ts";

/** How frets are cut, m. */
export interface FretCut {
  /** How much the tang is cut short of the fret at each end. */
  readonly nip: number;
  /** Fret beyond the board's edge at each end, along the slot; negative: short of it. */
  readonly overhang: number;
}

/** All m, along the slot or the edge named. */
export interface SlotCut {
  readonly fret: number;
  /** Along each edge of the board from the nut line's end to the slot's end. */
  readonly alongBassEdge: number;
  readonly alongTrebleEdge: number;
  /** Along the outer strings from the nut line. */
  readonly alongLowest: number;
  readonly alongHighest: number;
  /** From the nut line's bass end to the slot's treble end, and the other way: with both edges right, they check the angle. */
  readonly diagonalFromBass: number;
  readonly diagonalFromTreble: number;
  /** Edge to edge. */
  readonly length: number;
  /** The fret, and what is left of its tang. */
  readonly wire: number;
  readonly tang: number;
}

/** The cuts by fret. Fails with 'fret-cut' where nip and overhang leave no fret or no tang. */
export function slotCuts(layout: BoardLayout, { nip, overhang }: FretCut): Outcome<readonly SlotCut[]> {
  const lowest = layout.strings[layout.strings.length - 1];
  const highest = layout.strings[0];
  const { nutLine } = layout;
  const cuts = layout.slots.map((slot: FretSlot): SlotCut => {
    const wire = slot.length + 2 * overhang;
    return {
      fret: slot.fret,
      alongBassEdge: apart(nutLine.bass, slot.bass),
      alongTrebleEdge: apart(nutLine.treble, slot.treble),
      alongLowest: lowest.fretDistance[slot.fret],
      alongHighest: highest.fretDistance[slot.fret],
      diagonalFromBass: apart(nutLine.bass, slot.treble),
      diagonalFromTreble: apart(nutLine.treble, slot.bass),
      length: slot.length,
      wire,
      tang: wire - 2 * nip,
    };
  });
  const bare = cuts.find((cut) => !(cut.wire > 0 && cut.tang > 0 && cut.tang <= cut.wire));
  return bare === undefined
    ? done(cuts)
    : failed("fret-cut", `fret ${bare.fret} would be ${bare.wire} m long with a tang of ${bare.tang} m`);
}

function apart(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}
