import type { BoardLayout, Point } from "#engine/geometry";
import type { BuildNeck } from "../build.ts";
import type { BuildHead, BuildNeckRod } from "../buildSetup.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { commonPractice, kilograms, type Ledger, metres, radians, si } from "./reading.ts";
import { realiseWood } from "./wood.ts";

/** A head that is not told of (common practice, no source). */
const usualHead = { angle: "13 deg", thickness: "15 mm", length: "180 mm" } as const;

/** The neck with head and rods; `board` lies on the body. */
export function realiseNeck(document: InstrumentDocument, board: BoardLayout, ledger: Ledger): BuildNeck {
  const { neck, fingerboard, strings } = document;
  return {
    joint: neck.joint,
    joinFret: neck.joinFret,
    pitch: radians(neck.pitch),
    boardHeight: metres(fingerboard.heightOverTop),
    boardThickness: metres(fingerboard.thickness),
    fretHeight: metres(fingerboard.fretHeight),
    relief: metres(strings.relief),
    mass: kilograms(typeof neck.mass === "string" ? neck.mass : neck.mass.value),
    centreFromBody: metres(neck.centreFromBody),
    depthAtFirst: metres(neck.thickness.first),
    depthAtNinth: metres(neck.thickness.ninth),
    profile: neck.profile ?? null,
    widthAtNut: metres(fingerboard.widthAtNut),
    widthAtEnd: metres(fingerboard.widthAtEnd),
    head: realiseHead(document, board, ledger),
    rods: neck.rods.map((rod, i) => realiseRod(rod, `neck.rods[${i}]`, ledger)),
    wood: realiseWood(neck.wood, "neck.wood", "neck.wood", "none", ledger),
    boardWood: realiseWood(fingerboard.wood, "fingerboard.wood", "neck.boardWood", "none", ledger),
    boardClear: fingerboard.overTop === "clear",
  };
}

function realiseHead({ neck }: InstrumentDocument, board: BoardLayout, ledger: Ledger): BuildHead {
  const { head } = neck;
  if (head === undefined) {
    const { angle, thickness, length } = usualHead;
    ledger.assumed.push({
      path: "neck.head",
      value: `${angle} back, ${thickness} thick, ${length} long`,
      because: commonPractice,
    });
  }
  const length = metres(head?.length ?? usualHead.length);
  const stated = head?.posts?.map(([along, aside]): Point => [metres(along), metres(aside)]);
  if (stated === undefined) {
    ledger.assumed.push({
      path: "neck.head.posts",
      value: "posts in pairs up the head, the outer strings' nearest the nut, every string straight on",
      because: commonPractice,
    });
  }
  return {
    angle: radians(head?.angle ?? usualHead.angle),
    thickness: metres(head?.thickness ?? usualHead.thickness),
    length,
    inlayDepth: head?.inlay === undefined ? null : metres(head.inlay.depth),
    faceVeneer: metres(head?.faceVeneer ?? "0 mm"),
    posts: stated ?? usualPosts(board, length),
    postsStated: stated !== undefined,
  };
}

/** Posts in pairs along the head, evenly spaced, each string running straight on past the nut (common practice, no source). */
function usualPosts(board: BoardLayout, length: number): Point[] {
  const count = board.strings.length;
  const pairs = Math.ceil(count / 2);
  return board.strings.map(({ nut, saddle }, i): Point => {
    const along = (length * (Math.min(i, count - 1 - i) + 0.75)) / (pairs + 0.5);
    return [along, nut[1] + (along * (nut[1] - saddle[1])) / (nut[0] - saddle[0])];
  });
}

type RodEntry = InstrumentDocument["neck"]["rods"][number];

function realiseRod(rod: RodEntry, path: string, ledger: Ledger): BuildNeckRod {
  const height = metres(rod.height);
  if (rod.axisDepth === undefined)
    ledger.assumed.push({
      path: `${path}.axisDepth`,
      value: "half the rod's height: it lies flush under the board",
      because: commonPractice,
    });
  return {
    kind: rod.kind,
    width: metres(rod.width),
    height,
    length: metres(rod.length),
    axisDepth: rod.axisDepth === undefined ? height / 2 : metres(rod.axisDepth),
    tension: rod.tension === undefined ? null : si(rod.tension, "force"),
  };
}
