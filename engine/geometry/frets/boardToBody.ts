/** Where the board lies on the body. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { Point } from "../polygon.ts";
import { type BoardLayout, type BoardLine, fretPlaceOnCentreline } from "./boardLayout.ts";
import type { BoardSpec } from "./boardSpec.ts";

/**
 * Places a board so that fret `joinFret` (any real number) crosses the centreline at the body's neck end, `length` m from
 * the tail. Body frame: x_body = origin - x_board, y the same; the angles keep their meaning (bass end nearer the
 * bridge is positive). The saddle line then gives the bridge's place. Fails with 'temperament' or 'join-fret'.
 */
export function boardToBody(
  layout: BoardLayout,
  spec: BoardSpec,
  joinFret: number,
  length: number,
): Outcome<BoardLayout> {
  const origin = boardOrigin(layout, spec, joinFret, length);
  if (!origin.ok) return origin;
  return done(mapped(layout, ([x, y]) => [origin.value - x, y]));
}

/** Where the board frame's origin lies on the body's centreline, m from the tail. */
function boardOrigin(
  layout: BoardLayout,
  spec: BoardSpec,
  joinFret: number,
  length: number,
): Outcome<number> {
  if (!(joinFret >= 0 && Number.isFinite(joinFret)))
    return failed("join-fret", `the neck joins the body at fret ${joinFret}`);
  const join = fretPlaceOnCentreline(layout, spec, joinFret);
  return join.ok ? done(length + join.value) : join;
}

/** A board mirrored for a left-handed player: string 1 is still the highest, bass is still bass. */
export function mirrorBoard(layout: BoardLayout): BoardLayout {
  return mapped(layout, ([x, y]) => [x, -y]);
}

/** The layout with every point moved; lengths and angles are kept, so only for motions that keep them. */
function mapped(layout: BoardLayout, place: (point: Point) => Point): BoardLayout {
  const line = (given: BoardLine): BoardLine => ({
    ...given,
    bass: place(given.bass),
    treble: place(given.treble),
  });
  return {
    strings: layout.strings.map((string) => ({
      ...string,
      nut: place(string.nut),
      saddle: place(string.saddle),
    })),
    slots: layout.slots.map((slot) => ({ ...slot, bass: place(slot.bass), treble: place(slot.treble) })),
    nutLine: line(layout.nutLine),
    saddleLine: line(layout.saddleLine),
    bassEdge: [place(layout.bassEdge[0]), place(layout.bassEdge[1])],
    trebleEdge: [place(layout.trebleEdge[0]), place(layout.trebleEdge[1])],
  };
}
