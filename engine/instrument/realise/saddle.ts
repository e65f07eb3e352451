import { type BoardLayout, domeHeight } from "#engine/geometry";
import type { BuildNeck, BuildSaddle } from "../build.ts";
import type { BuildNut } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { metres, point } from "./reading.ts";

/**
 * The saddle as the document has it, and the string height that neck and action ask for. Along the centreline, from the
 * body's edge towards the bridge, the plane of the fret crowns stands over the top's outside face by
 *   board height + board + fret + D tan(pitch) - (rise of the dome over D),
 * less what the board's cross curve falls towards the string (`across`, string 1 first, m, negative beside the middle), and a
 * string stands over that at the saddle by 2 (action - relief left at fret 12) - its height at the nut: it is straight, and
 * fret 12 is half way. The relief is a parabola from the nut to the joining fret.
 */
export function realiseSaddle(
  document: InstrumentDocument,
  board: BoardLayout,
  neck: BuildNeck,
  nut: BuildNut,
  bodyLength: number,
  topFace: number,
  across: ArrayLike<number>,
): BuildSaddle {
  const { saddle, strings, top } = document;
  const [heightBass, heightTreble] = [metres(saddle.heightBass), metres(saddle.heightTreble)];
  const dome =
    top.dome === undefined ? null : { radius: metres(top.dome.radius), apex: point(top.dome.apex) };
  const asked = (
    end: readonly [number, number],
    scale: number,
    action: number,
    clearance: number,
    fall: number,
  ): number => {
    const run = bodyLength - end[0];
    const rise = domeHeight(dome, end[0], 0) - domeHeight(dome, bodyLength, 0);
    const plane =
      neck.boardHeight + neck.boardThickness + neck.fretHeight + run * Math.tan(neck.pitch) - rise + fall;
    const share = scale / 2 / (scale - run);
    const left = share < 1 ? neck.relief * 4 * share * (1 - share) : 0;
    return plane + 2 * (action - left) - clearance;
  };
  const { bass, treble } = board.saddleLine;
  const scaleOf = (i: number): number => board.strings.at(i)?.scaleLength ?? Number.NaN;
  return {
    heightBass,
    heightTreble,
    crownHeight: (heightBass + heightTreble) / 2 + topFace,
    width: metres(saddle.width),
    slotDepth: metres(saddle.slotDepth),
    askedBass: asked(
      bass,
      scaleOf(-1),
      metres(strings.action.bass),
      nut.clearanceBass,
      across[across.length - 1]!,
    ),
    askedTreble: asked(treble, scaleOf(0), metres(strings.action.treble), nut.clearanceTreble, across[0]!),
  };
}
