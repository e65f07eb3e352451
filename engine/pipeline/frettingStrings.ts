import type { Build } from "#engine/instrument";
import { type FrettingString, leastFingerDepth, relievedCrowns, withAction } from "#engine/strings";
import type { InstrumentGeometry } from "./geometry.ts";
import type { SetString } from "./stringSet.ts";

/**
 * The strings over their board as fretting sees them, string 1 first: crowns with relief (parabola from fret 1 to the
 * joint) and fall-away, heights over the line of the crowns under each string. Nut and saddle hold the string: the added
 * pull of a fretted note (a few per cent at most) is below what friction over their breaks takes (common practice, no source).
 */
export function frettingStrings(
  build: Build,
  { boardInOwnFrame: board }: InstrumentGeometry,
  strings: readonly SetString[],
): readonly FrettingString[] {
  return board.strings.map((path, i) => {
    const s = build.strings[i]!;
    const { design, frequency } = strings[i]!;
    const crowns = relievedCrowns(path.fretDistance, build.neck.joinFret, build.neck.relief);
    const flat: FrettingString = {
      string: path.string,
      design,
      openFrequency: frequency,
      scaleLength: path.scaleLength,
      fretPlace: path.fretDistance,
      crownHeight: crowns.map(
        (h, f) => h - fallBelow(build, path.fretDistance, f, boardEnd(path, board.bassEdge[1][0])),
      ),
      nutHeight: s.nutClearance,
      saddleHeight: 0,
      behindNut: s.behindNut,
      behindSaddle: s.behindSaddle,
      friction: "full",
      finger: build.setup.finger,
    };
    const over = withAction(flat, s.action);
    // a finger the document does not speak of presses as deep as it must; one that it does is taken at its word
    if (!build.assumed.some((a) => a.path === "setup.finger.depth")) return over;
    return {
      ...over,
      finger: { ...over.finger, depth: Math.max(over.finger.depth, leastFingerDepth(over)) },
    };
  });
}

/** Where the board ends along a string, m from the nut line. */
function boardEnd(
  path: {
    readonly scaleLength: number;
    readonly nut: readonly [number, number];
    readonly saddle: readonly [number, number];
  },
  station: number,
): number {
  return (path.scaleLength * (station - path.nut[0])) / (path.saddle[0] - path.nut[0]);
}

/** How far the crown of a fret lies below the board's own line: straight from the fret where the fall begins to the board's end. */
function fallBelow(build: Build, places: Float64Array, fret: number, end: number): number {
  const fall = build.fingerboard.fallAway;
  if (fall === null) return 0;
  const whole = Math.min(Math.floor(fall.fromFret), places.length - 1);
  const next = places[whole + 1] ?? end;
  const from = places[whole]! + (fall.fromFret - whole) * (next - places[whole]!);
  return places[fret]! > from ? (fall.depth * (places[fret]! - from)) / (end - from) : 0;
}
