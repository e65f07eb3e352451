import { slotCuts } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { InstrumentGeometry } from "./geometry.ts";

/** What the cards of slots, frets and bridge are drawn from: everything cumulative from the nut, m; the same for either hand. */
export interface CutsReport {
  readonly slotWidthM: number;
  readonly slotDepthM: number;
  readonly tangWidthM: number;
  readonly tangDepthM: number;
  readonly frets: readonly {
    readonly fret: number;
    /** From the nut line's ends along the board's edges, and along the outer strings. */
    readonly bassEdgeM: number;
    readonly trebleEdgeM: number;
    readonly lowestStringM: number;
    readonly highestStringM: number;
    /** From each end of the nut line to the slot's other end. */
    readonly fromNutBassToTrebleM: number;
    readonly fromNutTrebleToBassM: number;
    /** Edge to edge; then the fret with its overhang, and its tang with the nips off. */
    readonly slotM: number;
    readonly wireM: number;
    readonly tangM: number;
  }[];
  /** All frets together. */
  readonly wireInAllM: number;
  /** Centres of the strings along nut and saddle line, from the board's bass edge and from the lowest string; string 1 first. */
  readonly stringsAcross: readonly {
    readonly string: number;
    readonly fromBassEdgeAtNutM: number;
    readonly fromLowestAtSaddleM: number;
  }[];
  /** The theoretical saddle line, compensation not in it: outer strings and the diagonals between them, nut to saddle. */
  readonly bridge: {
    readonly lowestM: number;
    readonly highestM: number;
    readonly fromLowestNutToHighestM: number;
    readonly fromHighestNutToLowestM: number;
  };
}

/** Fails with 'fret-cut' where nip and overhang leave no fret or no tang. */
export function cutsReport(
  { fingerboard: { slot } }: Build,
  { boardInOwnFrame: board }: InstrumentGeometry,
): Outcome<CutsReport> {
  const cuts = slotCuts(board, slot);
  if (!cuts.ok) return cuts;
  const highest = board.strings[0]!;
  const lowest = board.strings[board.strings.length - 1]!;
  return done({
    slotWidthM: slot.width,
    slotDepthM: slot.depth,
    tangWidthM: slot.tangWidth,
    tangDepthM: slot.tangDepth,
    frets: cuts.value.map((cut) => ({
      fret: cut.fret,
      bassEdgeM: cut.alongBassEdge,
      trebleEdgeM: cut.alongTrebleEdge,
      lowestStringM: cut.alongLowest,
      highestStringM: cut.alongHighest,
      fromNutBassToTrebleM: cut.diagonalFromBass,
      fromNutTrebleToBassM: cut.diagonalFromTreble,
      slotM: cut.length,
      wireM: cut.wire,
      tangM: cut.tang,
    })),
    wireInAllM: cuts.value.reduce((sum, cut) => sum + cut.wire, 0),
    stringsAcross: board.strings.map((s) => ({
      string: s.string,
      fromBassEdgeAtNutM: apart(board.nutLine.bass, s.nut),
      fromLowestAtSaddleM: apart(lowest.saddle, s.saddle),
    })),
    bridge: {
      lowestM: lowest.scaleLength,
      highestM: highest.scaleLength,
      fromLowestNutToHighestM: apart(lowest.nut, highest.saddle),
      fromHighestNutToLowestM: apart(highest.nut, lowest.saddle),
    },
  });
}

function apart(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}
