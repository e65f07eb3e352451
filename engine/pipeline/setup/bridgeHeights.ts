import { domeHeight } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { actionFret, type StringOverBoard } from "#engine/strings";
import type { InstrumentGeometry } from "../geometry.ts";

/** Heights at the bridge, m and rad; strings with string 1 first. */
export interface BridgeHeights {
  /** The straightedge on the frets, carried on, over the bridge's upper face at the middle of the saddle line; below 0 it meets the bridge. */
  readonly straightedge: number;
  /** Underside of each string over the top's outside at its saddle, as neck, board and action ask for. */
  readonly asked: readonly number[];
  /** What the document says of the outer strings, the saddle arched as the board between them. */
  readonly stated: readonly number[];
  /** How much each string's saddle must rise (below 0: be filed down) against that. */
  readonly move: readonly number[];
  /** Action with the saddle as stated. */
  readonly actionAsStated: readonly number[];
  /** Turn of each string over the asked saddle. */
  readonly breakAngle: readonly number[];
}

/**
 * Along the board's middle the line of the crowns stands over the top's outside by
 *   board height + board + fret + D tan(pitch) - (rise of the dome over D),
 * D from the body's end towards the tail. A string comes down behind the saddle to where it leaves the bridge's upper face
 * (held at the tail: to the top's edge there), and ahead of it falls towards the nut with the neck: both make the turn.
 */
export function bridgeHeights(
  build: Build,
  { plan, board }: InstrumentGeometry,
  strings: readonly StringOverBoard[],
): BridgeHeights {
  const { neck, bridge, saddle } = build;
  const top = (x: number, y: number): number => domeHeight(build.body.topDome, x, y);
  const edge = top(plan.length, 0);
  const crowns = (x: number, y: number): number =>
    neck.boardHeight +
    neck.boardThickness +
    neck.fretHeight +
    (plan.length - x) * Math.tan(neck.pitch) -
    (top(x, y) - edge);
  const places = board.strings.map((s) => s.saddle);
  const asked = strings.map((s, i) => crowns(...places[i]!) + s.saddleHeight);
  const topFace = saddle.crownHeight - (saddle.heightBass + saddle.heightTreble) / 2;
  const stated = build.strings.map(({ crown }) => crown[2] - topFace);
  const { bass, treble } = board.saddleLine;
  return {
    straightedge: crowns((bass[0] + treble[0]) / 2, (bass[1] + treble[1]) / 2) - bridge.thickness,
    asked,
    stated,
    move: asked.map((height, i) => height - stated[i]!),
    actionAsStated: strings.map((s, i) => {
      const share = s.fretPlace[actionFret(s)]! / s.scaleLength;
      return build.strings[i]!.action + share * (stated[i]! - asked[i]!);
    }),
    breakAngle: strings.map((s, i) => {
      const [x, y] = places[i]!;
      const behind = build.strings[i]!.behindSaddle;
      // the bridge lies on the dome; at the tail the string comes down to the top itself
      const drop =
        asked[i]! +
        top(x, y) -
        (bridge.anchor === "tail" ? top(0, 0) : bridge.thickness + top(x - behind, y));
      const ahead = neck.pitch + Math.atan((s.saddleHeight - s.nutHeight) / s.scaleLength);
      return Math.atan(drop / behind) + ahead;
    }),
  };
}
