import type { InstrumentSketch } from "#engine/pipeline";

/** A place, mm of the sheet at full size (p to the right, q down, neck at the left of a right-handed guitar); or px of the screen. */
export type Place = readonly [number, number];

/** Which side of which plate is up: the front, the top lifted off and turned over, or the back as one looks into the open box. */
export type Face = "front" | "top inside" | "back inside";

/** The three drawings of the sheet, in projection: plan, the side below it, the section across beyond the tail. */
export type View = "plan" | "side" | "across";

export interface SheetLayout {
  readonly hand: "right" | "left";
  /** p of a metre along the centreline, and q of a metre towards the bass side, mm. */
  readonly alongMm: number;
  readonly acrossMm: number;
  /** q of the plane of the top's edge in the side's drawing, p of it in the section's. */
  readonly sideAtMm: number;
  readonly acrossAtMm: number;
  readonly boxes: { readonly [view in View]: Box };
  /** The body alone, without the neck's far end. */
  readonly body: Box;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Paper between the drawings, mm. */
const gap = 30;
/** Room over the top's edge for bridge, board and strings, mm. */
const above = 30;

/**
 * Where the drawings lie. The bass side is at the lower edge as the player looks down on it; a left-handed guitar has its neck
 * at the right. Turned over (the top's inside) the treble side is at the lower edge.
 */
export function sheetLayout(
  sketch: Pick<InstrumentSketch, "hand" | "outline" | "length" | "sides" | "board" | "neck">,
  face: Face,
): SheetLayout {
  const alongMm = sketch.hand === "right" ? -1000 : 1000;
  const acrossMm = face === "top inside" ? -1000 : 1000;
  let [minX, maxX, minY, maxY] = [0, sketch.length, 0, 0];
  for (let i = 0; i < sketch.outline.length; i += 2) {
    minX = Math.min(minX, sketch.outline[i]!);
    maxX = Math.max(maxX, sketch.outline[i]!);
    minY = Math.min(minY, sketch.outline[i + 1]!);
    maxY = Math.max(maxY, sketch.outline[i + 1]!);
  }
  const nut = Math.max(sketch.board.nutLine.bass[0], sketch.board.nutLine.treble[0]);
  const deep = 1000 * Math.max(sketch.sides.rim.depthAtTail, sketch.sides.rim.depthAtNeck) + 15;
  const head = 1000 * (sketch.neck.head.length * Math.sin(sketch.neck.head.angle + sketch.neck.pitch));
  const span = (a: number, b: number): readonly [number, number] => [Math.min(a, b), Math.max(a, b)];
  const [left, right] = span(alongMm * minX, alongMm * maxX);
  const [far, near] = span(alongMm * minX, alongMm * nut);
  const [top, bottom] = span(acrossMm * minY, acrossMm * maxY);
  const sideAtMm = bottom + gap + above;
  const way = alongMm > 0 ? -1 : 1;
  const tail = alongMm * minX;
  const acrossAtMm = tail + way * (gap + above);
  const [inner, outer] = span(acrossAtMm - way * above, acrossAtMm + way * deep);
  return {
    hand: sketch.hand,
    alongMm,
    acrossMm,
    sideAtMm,
    acrossAtMm,
    body: { left, top, right, bottom },
    boxes: {
      plan: { left: far, top, right: near, bottom },
      side: { left: far, top: sideAtMm - above, right: near, bottom: sideAtMm + Math.max(deep, head) },
      across: { left: inner, top, right: outer, bottom },
    },
  };
}

/** (x, y) of the plan, (x, z) of the side or (y, z) of the section, m, on the sheet; (s, h) along a brace on its own strip. */
export function onSheet(layout: SheetLayout, view: View | "profile", at: readonly [number, number]): Place {
  if (view === "profile") return [1000 * at[0], -1000 * at[1]];
  if (view === "plan") return [layout.alongMm * at[0], layout.acrossMm * at[1]];
  if (view === "side") return [layout.alongMm * at[0], layout.sideAtMm - 1000 * at[1]];
  const way = layout.alongMm > 0 ? -1 : 1;
  return [layout.acrossAtMm - way * 1000 * at[1], layout.acrossMm * at[0]];
}

/** The way back from the sheet. */
export function offSheet(
  layout: SheetLayout,
  view: View | "profile",
  place: Place,
): readonly [number, number] {
  if (view === "profile") return [place[0] / 1000, -place[1] / 1000];
  if (view === "plan") return [place[0] / layout.alongMm, place[1] / layout.acrossMm];
  if (view === "side") return [place[0] / layout.alongMm, (layout.sideAtMm - place[1]) / 1000];
  const way = layout.alongMm > 0 ? -1 : 1;
  return [place[1] / layout.acrossMm, (layout.acrossAtMm - place[0]) / (way * 1000)];
}

/** The smallest box round some boxes. */
export function boxAround(boxes: readonly Box[]): Box {
  return {
    left: Math.min(...boxes.map((b) => b.left)),
    top: Math.min(...boxes.map((b) => b.top)),
    right: Math.max(...boxes.map((b) => b.right)),
    bottom: Math.max(...boxes.map((b) => b.bottom)),
  };
}

/** The path data of chains of places given in metres, to 0.01 mm of the sheet. */
export function pathOn(
  layout: SheetLayout,
  view: View,
  chains: readonly ArrayLike<number>[],
  closed: boolean,
): string {
  let data = "";
  for (const chain of chains) {
    for (let i = 0; i + 1 < chain.length; i += 2) {
      const [p, q] = onSheet(layout, view, [chain[i]!, chain[i + 1]!]);
      data += `${i === 0 ? "M" : "L"}${Math.round(100 * p) / 100} ${Math.round(100 * q) / 100}`;
    }
    if (closed && chain.length > 0) data += "Z";
  }
  return data;
}
