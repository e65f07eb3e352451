import type { Point } from "#engine/geometry";
import type { SketchBrace, SketchPlate } from "#engine/pipeline";
import type { Entry, Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";
import type { SnapTarget } from "./snap.ts";

type End = "from" | "to";

/** The ends of a brace, and the whole of it by its middle. Its ends are those that the document states, beyond the edge too. */
export function braceHandles(
  brace: SketchBrace,
  plate: Pick<SketchPlate, "braces" | "hub">,
): readonly Handle[] {
  return [end(brace, "from", plate), end(brace, "to", plate), wholeBrace(brace, plate)];
}

function end(brace: SketchBrace, which: End, plate: Pick<SketchPlate, "braces" | "hub">): Handle {
  const at = brace[which];
  const other = brace[which === "from" ? "to" : "from"];
  const path = `${brace.path}.${which}`;
  const moved = (to: Point): readonly Setting[] => [{ path, kind: "place", value: to }];
  return {
    id: path,
    owner: brace.path,
    view: "plan",
    at,
    look: "end",
    name: `${brace.name}, ${endName(brace, which)}`,
    free: [true, true],
    targets: endTargets(brace, which, plate),
    moved,
    entries: [...placeEntries(path, at, moved), ...lineEntries(path, other, at, moved)],
  };
}

/** The whole brace, moved without turning. */
export function wholeBrace(brace: SketchBrace, plate: Pick<SketchPlate, "braces">): Handle {
  const at = middleOf(brace);
  const moved = (to: Point): readonly Setting[] => {
    const by = [to[0] - at[0], to[1] - at[1]] as const;
    const shifted = (end: Point): Point => [end[0] + by[0], end[1] + by[1]];
    return [
      { path: `${brace.path}.from`, kind: "place", value: shifted(brace.from) },
      { path: `${brace.path}.to`, kind: "place", value: shifted(brace.to) },
    ];
  };
  const partners = plate.braces.filter((b) => b.path !== brace.path).map(middleOf);
  return {
    id: brace.path,
    owner: brace.path,
    view: "plan",
    at,
    look: "whole",
    name: brace.name,
    free: [true, true],
    targets: [
      { kind: "line", at: [0, 0], along: [1, 0], words: "centreline" },
      ...partners.map(
        (p): SnapTarget => ({ kind: "point", at: [p[0], -p[1]], words: "mirror image of another brace" }),
      ),
    ],
    moved,
    entries: [
      ...placeEntries(brace.path, at, moved),
      size(brace, "width", "width"),
      size(brace, "height", "height"),
    ],
  };
}

function size(brace: SketchBrace, key: "width" | "height", label: string): Entry {
  const path = `${brace.path}.${key}`;
  return {
    id: path,
    label,
    kind: "length",
    value: brace[key],
    set: (value) => [{ path, kind: "length", value }],
  };
}

export function placeEntries(
  id: string,
  at: Point,
  moved: (to: Point, alone: boolean) => readonly Setting[],
): readonly Entry[] {
  return [
    {
      id: `${id}.x`,
      label: "from the tail",
      kind: "length",
      value: at[0],
      set: (v, alone) => moved([v, at[1]], alone),
    },
    {
      id: `${id}.y`,
      label: "to the bass side",
      kind: "length",
      value: at[1],
      set: (v, alone) => moved([at[0], v], alone),
    },
  ];
}

/** Length and angle of the line from the other end, which stays. */
function lineEntries(
  id: string,
  other: Point,
  at: Point,
  moved: (to: Point) => readonly Setting[],
): readonly Entry[] {
  const [dx, dy] = [at[0] - other[0], at[1] - other[1]];
  const length = Math.hypot(dx, dy);
  const angle = Math.atan2(dy, dx);
  const to = (l: number, a: number): Point => [other[0] + l * Math.cos(a), other[1] + l * Math.sin(a)];
  return [
    { id: `${id}.length`, label: "length", kind: "length", value: length, set: (v) => moved(to(v, angle)) },
    {
      id: `${id}.angle`,
      label: "angle to the centreline",
      kind: "angle",
      value: angle,
      set: (v) => moved(to(length, v)),
    },
  ];
}

function endTargets(
  brace: SketchBrace,
  which: End,
  { braces, hub }: Pick<SketchPlate, "braces" | "hub">,
): readonly SnapTarget[] {
  const other = brace[which === "from" ? "to" : "from"];
  const others = braces.filter((b) => b.path !== brace.path);
  const across = (p: Point): Point => [p[0], -p[1]];
  return [
    ...others.flatMap((b): SnapTarget[] =>
      [b.from, b.to].map((p) => ({ kind: "point", at: across(p), words: `mirror image of ${b.name}` })),
    ),
    ...others.flatMap((b): SnapTarget[] =>
      [b.from, b.to].map((p) => ({ kind: "point", at: p, words: `end of ${b.name}` })),
    ),
    ...(hub === null ? [] : [{ kind: "point", at: hub.centre, words: "middle of the hub" } as const]),
    { kind: "line", at: [0, 0], along: [1, 0], words: "centreline" },
    ...others.map(
      (b): SnapTarget => ({
        kind: "line",
        at: other,
        along: [b.to[0] - b.from[0], b.to[1] - b.from[1]],
        words: `angle of ${b.name}`,
      }),
    ),
    ...others.map(
      (b): SnapTarget => ({
        kind: "line",
        at: other,
        along: [b.to[0] - b.from[0], b.from[1] - b.to[1]],
        words: `mirrored angle of ${b.name}`,
      }),
    ),
    ...(hub === null ? [] : [towards(other, hub.centre)]).flat(),
    { kind: "line", at: other, along: [0, 1], words: "square to the centreline" },
    { kind: "line", at: other, along: [1, 0], words: "along the centreline" },
  ];
}

function towards(from: Point, centre: Point): readonly SnapTarget[] {
  const along: Point = [centre[0] - from[0], centre[1] - from[1]];
  return Math.hypot(...along) < 1e-6
    ? []
    : [{ kind: "line", at: from, along, words: "through the hub's middle" }];
}

/** Which end it is, as one would say it at the bench. */
function endName(brace: SketchBrace, which: End): string {
  const here = brace[which];
  const there = brace[which === "from" ? "to" : "from"];
  if (brace.ends[which === "from" ? 0 : 1] === "hub") return "hub end";
  const [dx, dy] = [here[0] - there[0], here[1] - there[1]];
  if (Math.abs(dx) > Math.abs(dy)) return dx > 0 ? "neck end" : "tail end";
  return dy > 0 ? "bass end" : "treble end";
}

function middleOf(brace: SketchBrace): Point {
  return [(brace.from[0] + brace.to[0]) / 2, (brace.from[1] + brace.to[1]) / 2];
}
