import type { Polygon } from "#engine/geometry";
import type { BoardView, Stamp } from "../voiceView.ts";

/** What every card says of its instrument. */
export interface CardHead {
  readonly title: string;
  /** Tuning and scales, one short line. */
  readonly subtitle: string;
  readonly hand: "right" | "left";
  readonly stamp: Stamp;
}

/** Places to cut slots, frets, nut, bridge and saddle, m; lists by string begin with string 1, the highest. */
export interface SlotCardsView extends CardHead {
  /** Body frame, a left-handed one already mirrored. */
  readonly board: BoardView;
  /** Footprint of the bridge in the same frame. */
  readonly bridge: Polygon;
  readonly slotWidth: number;
  readonly slotDepth: number;
  readonly frets: readonly {
    readonly fret: number;
    /** From the nut line's ends along the board's edges, and along the outer strings. */
    readonly bassEdge: number;
    readonly trebleEdge: number;
    readonly lowestString: number;
    readonly highestString: number;
    readonly angleDeg: number;
    /** From each end of the nut line to the slot's other end. */
    readonly nutBassToTreble: number;
    readonly nutTrebleToBass: number;
    readonly slot: number;
    readonly wire: number;
    readonly tang: number;
  }[];
  readonly wireInAll: number;
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly scaleLength: number;
    /** Centre of the string along the nut line from the board's bass edge. */
    readonly acrossNut: number;
    /** Along the saddle line from the lowest string. */
    readonly acrossSaddle: number;
    /** Its crown behind the theoretical saddle line; null if the string cannot be played so. */
    readonly saddleOffset: number | null;
  }[];
  /** Theoretical saddle line, compensation not in it. */
  readonly saddleLine: {
    readonly lowest: number;
    readonly highest: number;
    readonly lowestNutToHighest: number;
    readonly highestNutToLowest: number;
  };
}

/** Heights to set up by, m. */
export interface SetupCardsView extends CardHead {
  readonly relief: number;
  /** Underside of the string over the crowns carried on to the nut, and over the crown of fret 12. */
  readonly nutBass: number;
  readonly nutTreble: number;
  readonly actionBass: number;
  readonly actionTreble: number;
  /** Underside of the outer strings over the top's outside at the saddle. */
  readonly saddleBass: number;
  readonly saddleTreble: number;
  /** A straightedge on the frets over the bridge's upper face; below 0 it meets the bridge. */
  readonly straightedge: number;
  readonly breakAngleDeg: {
    readonly least: number;
    readonly leastString: number;
    readonly greatest: number;
    readonly greatestString: number;
  };
}
