import { heightsUnderStrings } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import { actionFret, relievedCrowns, type StringOverBoard } from "#engine/strings";
import type { InstrumentGeometry } from "../geometry.ts";

/**
 * Every string over its board, string 1 first. Heights are over the line of the crowns along the board's middle (the
 * straightedge from fret 1 to the joint carried on both ways): crowns with cross radius, relief and fall-away; the nut
 * by its clearance over the crowns carried on to it; the saddle as high as gives the action. m.
 */
export function stringsOverBoard(
  build: Build,
  { boardInOwnFrame: board }: InstrumentGeometry,
  relief = build.neck.relief,
): Outcome<readonly StringOverBoard[]> {
  const heights = heightsUnderStrings(board, build.board, build.fingerboard, 0);
  if (!heights.ok) return heights;
  return done(
    board.strings.map((path, i): StringOverBoard => {
      const s = build.strings[i]!;
      const across = heights.value[i]!.crown;
      const sag = relievedCrowns(path.fretDistance, build.neck.joinFret, relief);
      const crownHeight = across.map((z, fret) => z + sag[fret]!);
      const nutHeight = crownHeight[0]! + s.nutClearance;
      const flat: StringOverBoard = {
        string: path.string,
        scaleLength: path.scaleLength,
        fretPlace: path.fretDistance,
        crownHeight,
        nutHeight,
        saddleHeight: nutHeight,
      };
      return { ...flat, saddleHeight: saddleForAction(flat, s.action) };
    }),
  );
}

/** Height of the saddle that gives an action over the fret it is measured over, m. */
export function saddleForAction(s: StringOverBoard, action: number): number {
  const fret = actionFret(s);
  const slope = (s.crownHeight[fret]! + action - s.nutHeight) / s.fretPlace[fret]!;
  return s.nutHeight + slope * s.scaleLength;
}

/** The action that a height of the saddle gives, m. */
export function actionForSaddle(s: StringOverBoard, saddleHeight: number): number {
  const fret = actionFret(s);
  const share = s.fretPlace[fret]! / s.scaleLength;
  return s.nutHeight + share * (saddleHeight - s.nutHeight) - s.crownHeight[fret]!;
}
