/** The board in three dimensions: its conical cross curve, the fall of its end, and how high it lies under each string. */
import { done, failed, type Outcome } from "#engine/numerics";
import { type BoardLayout, fretPlaceOnCentreline, type StringPath } from "./boardLayout.ts";
import type { BoardSpec } from "./boardSpec.ts";

/** What makes the board other than flat. */
export interface BoardShape {
  /** Radius of the cross curve, square to the centreline, at the nut and at the last fret, m; null: flat across. */
  readonly radius: { readonly nut: number; readonly end: number } | null;
  /** Straight fall from the board's plane beyond a fret (any number), `depth` at the board's end, m. */
  readonly fallAway: { readonly fromFret: number; readonly depth: number } | null;
}

/** Heights along one string over the crest line (the straight line that the board's middle follows without a fall), m. */
export interface HeightsUnderString {
  readonly string: number;
  /** Of the board, by fret; index 0: at the nut line. */
  readonly board: Float64Array;
  /** Of the fret crowns alike: the frets follow the board; index 0: where their line meets the nut line. */
  readonly crown: Float64Array;
  /** Where the line of the crowns, without any fall, runs out under the string at the saddle line: radius only. */
  readonly crownAtSaddle: number;
}

/**
 * Height of a cone over its crest line at a distance y from it, m (0 on the line, negative beside it), where its section
 * square to the line has the radius of curvature `radius` on the line, which grows by `growth` per metre along it.
 * With u from the cone's point along the line, radius = growth u, and every point of the cone obeys
 *   (u - z growth)^2 = u^2 + y^2 + z^2,
 * of which this is the root at the crest; growth 0 is the cylinder. NaN beyond the cone. Source: the definition of a
 * circular cone (all its points see its axis under one angle from its point).
 */
export function coneHeight(radius: number, growth: number, y: number): number {
  return (-y * y) / (radius + Math.sqrt(radius * radius - (1 - growth * growth) * y * y));
}

/** The radius of the cross curve at a distance from the nut along the centreline, and how fast it grows. */
interface CrossCurve {
  readonly atNut: number;
  readonly growth: number;
}

/**
 * Heights of board and crowns under every string at every fret. The frets stand `fretHeight` over the board (m, measured
 * upright: square to the board's surface it is less by y^2 / 2 R^2, a few micrometres). Fails with 'board-shape' (a
 * radius that does not cover the board, a fall that begins past the last fret) or 'temperament'.
 */
export function heightsUnderStrings(
  layout: BoardLayout,
  spec: BoardSpec,
  shape: BoardShape,
  fretHeight: number,
): Outcome<readonly HeightsUnderString[]> {
  const cross = crossCurve(layout, spec, shape.radius);
  if (!cross.ok) return cross;
  const fall = fallLine(layout, spec, shape.fallAway);
  if (!fall.ok) return fall;
  const heights = layout.strings.map((path): HeightsUnderString => {
    const board = path.fretDistance.map((place) => {
      const [x, y] = along(path, place);
      return crossHeight(cross.value, x, y) - fall.value(path, place);
    });
    return {
      string: path.string,
      board,
      crown: board.map((z) => z + fretHeight),
      crownAtSaddle: crossHeight(cross.value, path.saddle[0], path.saddle[1]) + fretHeight,
    };
  });
  const bare = heights.find((h) => !h.board.every(Number.isFinite) || !Number.isFinite(h.crownAtSaddle));
  return bare === undefined
    ? done(heights)
    : failed("board-shape", `the cross radius does not reach out to string ${bare.string}`);
}

/**
 * How far the board under each string leaves the straight line between its own heights at nut and last fret, m (greatest
 * over the frets, above the line positive): 0 where the string runs along a line of the cone, that is where the strings'
 * and the cone's lines meet in one point; the fall is left out. String 1 first.
 */
export function unevenUnderStrings(
  layout: BoardLayout,
  spec: BoardSpec,
  radius: BoardShape["radius"],
): Outcome<readonly number[]> {
  const flat = heightsUnderStrings(layout, spec, { radius, fallAway: null }, 0);
  if (!flat.ok) return flat;
  return done(
    flat.value.map(({ board }, i) => {
      const places = layout.strings[i].fretDistance;
      const last = board.length - 1;
      let worst = 0;
      for (let f = 1; f < last; f++) {
        const line = board[0] + ((board[last] - board[0]) * places[f]) / places[last];
        if (Math.abs(board[f] - line) > Math.abs(worst)) worst = board[f] - line;
      }
      return worst;
    }),
  );
}

function crossCurve(
  layout: BoardLayout,
  spec: BoardSpec,
  radius: BoardShape["radius"],
): Outcome<CrossCurve | null> {
  if (radius === null) return done(null);
  if (!(radius.nut > 0 && radius.end > 0 && Number.isFinite(radius.nut) && Number.isFinite(radius.end)))
    return failed("board-shape", `cross radii of ${radius.nut} and ${radius.end} m`);
  const end = fretPlaceOnCentreline(layout, spec, spec.frets);
  if (!end.ok) return end;
  return done({
    atNut: radius.nut,
    growth: end.value > 0 ? (radius.end - radius.nut) / end.value : 0,
  });
}

function crossHeight(cross: CrossCurve | null, x: number, y: number): number {
  return cross === null ? 0 : coneHeight(cross.atNut + cross.growth * x, cross.growth, y);
}

/** How far the board has fallen under a string at a place along it, m: straight from the fret line where it begins to the board's end. */
function fallLine(
  layout: BoardLayout,
  spec: BoardSpec,
  fall: BoardShape["fallAway"],
): Outcome<(path: StringPath, place: number) => number> {
  if (fall === null) return done(() => 0);
  if (!(fall.fromFret >= 0 && fall.fromFret < spec.frets && fall.depth >= 0))
    return failed("board-shape", `a fall of ${fall.depth} m from fret ${fall.fromFret} of ${spec.frets}`);
  const whole = Math.floor(fall.fromFret);
  const end = layout.bassEdge[1][0];
  return done((path, place) => {
    const places = path.fretDistance;
    // straight between two frets, where the board is planed by hand and eye
    const from = places[whole] + (fall.fromFret - whole) * (places[whole + 1] - places[whole]);
    const to = (path.scaleLength * (end - path.nut[0])) / (path.saddle[0] - path.nut[0]);
    return place > from ? (fall.depth * (place - from)) / (to - from) : 0;
  });
}

/** The point of a string at a distance from its nut end. */
function along({ nut, saddle, scaleLength }: StringPath, place: number): readonly [number, number] {
  const t = place / scaleLength;
  return [nut[0] + t * (saddle[0] - nut[0]), nut[1] + t * (saddle[1] - nut[1])];
}
