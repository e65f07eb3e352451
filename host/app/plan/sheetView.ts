import type { Box, Place, SheetLayout } from "./sheetLayout.ts";

/** How the sheet lies under the window: which way the neck points, px per mm, the place of the sheet at the window's middle. */
export interface SheetView {
  readonly turn: Turn;
  readonly scale: number;
  readonly middle: Place;
}

/** "long": the centreline across the window; "upright": the neck up. */
export type Turn = "long" | "upright";

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** px per mm beyond which nothing more is to be seen, and below which nothing can be taken hold of. */
const leastScale = 0.15;
const mostScale = 60;

type Matrix = readonly [a: number, b: number, c: number, d: number];

/** The turn alone. A left-handed guitar's neck lies at the right and is turned up the other way. */
function turned(turn: Turn, hand: SheetLayout["hand"]): Matrix {
  if (turn === "long") return [1, 0, 0, 1];
  return hand === "right" ? [0, 1, -1, 0] : [0, -1, 1, 0];
}

export function toScreen(view: SheetView, hand: SheetLayout["hand"], size: Size, [p, q]: Place): Place {
  const [a, b, c, d] = turned(view.turn, hand);
  const [u, v] = [p - view.middle[0], q - view.middle[1]];
  return [size.width / 2 + view.scale * (a * u + c * v), size.height / 2 + view.scale * (b * u + d * v)];
}

export function toSheet(view: SheetView, hand: SheetLayout["hand"], size: Size, [x, y]: Place): Place {
  const [a, b, c, d] = turned(view.turn, hand);
  const [u, v] = [(x - size.width / 2) / view.scale, (y - size.height / 2) / view.scale];
  // the inverse of a turn is its transpose
  return [view.middle[0] + a * u + b * v, view.middle[1] + c * u + d * v];
}

/** The same as an SVG transform. */
export function matrixOf(view: SheetView, hand: SheetLayout["hand"], size: Size): string {
  const [a, b, c, d] = turned(view.turn, hand).map((m) => m * view.scale) as unknown as Matrix;
  const [x, y] = toScreen(view, hand, size, [0, 0]);
  return `matrix(${a} ${b} ${c} ${d} ${x} ${y})`;
}

/** Larger or smaller with the place under (x, y) kept there. */
export function zoomedAt(
  view: SheetView,
  hand: SheetLayout["hand"],
  size: Size,
  at: Place,
  factor: number,
): SheetView {
  const scale = Math.min(mostScale, Math.max(leastScale, view.scale * factor));
  const under = toSheet(view, hand, size, at);
  const moved = toSheet({ ...view, scale }, hand, size, at);
  return {
    ...view,
    scale,
    middle: [view.middle[0] + under[0] - moved[0], view.middle[1] + under[1] - moved[1]],
  };
}

/** Shifted by (dx, dy) px. */
export function panned(
  view: SheetView,
  hand: SheetLayout["hand"],
  size: Size,
  dx: number,
  dy: number,
): SheetView {
  const from = toSheet(view, hand, size, [0, 0]);
  const to = toSheet(view, hand, size, [dx, dy]);
  return { ...view, middle: [view.middle[0] + from[0] - to[0], view.middle[1] + from[1] - to[1]] };
}

/** Two fingers that were at `before` are at `after`: shifted and zoomed so that the sheet stays under both as well as it can without turning. */
export function pinched(
  view: SheetView,
  hand: SheetLayout["hand"],
  size: Size,
  before: readonly [Place, Place],
  after: readonly [Place, Place],
): SheetView {
  const centre = ([m, n]: readonly [Place, Place]): Place => [(m[0] + n[0]) / 2, (m[1] + n[1]) / 2];
  const apart = ([m, n]: readonly [Place, Place]): number => Math.hypot(m[0] - n[0], m[1] - n[1]);
  const [from, to] = [centre(before), centre(after)];
  const shifted = panned(view, hand, size, to[0] - from[0], to[1] - from[1]);
  const spread = apart(before);
  return spread < 1 ? shifted : zoomedAt(shifted, hand, size, to, apart(after) / spread);
}

/** The whole box in the window, with a margin. */
export function fitted(box: Box, size: Size, turn: Turn, marginPx = 28): SheetView {
  const [long, wide] = [box.right - box.left, box.bottom - box.top];
  const [across, down] = turn === "long" ? [long, wide] : [wide, long];
  const room = (length: number): number => Math.max(40, length - 2 * marginPx);
  const scale = Math.min(room(size.width) / across, room(size.height) / down);
  return {
    turn,
    scale: Math.min(mostScale, Math.max(leastScale, scale)),
    middle: [(box.left + box.right) / 2, (box.top + box.bottom) / 2],
  };
}

/** The turn in which a box of the sheet is drawn larger. */
export function betterTurn(box: Box, size: Size): Turn {
  const [long, wide] = [box.right - box.left, box.bottom - box.top];
  const scale = (across: number, down: number): number => Math.min(size.width / across, size.height / down);
  return scale(long, wide) >= scale(wide, long) ? "long" : "upright";
}
