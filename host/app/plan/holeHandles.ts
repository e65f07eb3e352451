import type { CutawaySpec, HoleSpec, Point } from "#engine/geometry";
import type { SketchCutaway } from "#engine/pipeline";
import { placeEntries } from "./braceHandles.ts";
import type { Entry, Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";
import type { SnapTarget } from "./snap.ts";

type Ellipse = Extract<HoleSpec, { kind: "ellipse" }>;

const centreline: SnapTarget = { kind: "line", at: [0, 0], along: [1, 0], words: "centreline" };

/** An ellipse by its centre, the ends of both axes and a turn beyond the first. */
export function ellipseHandles(hole: Ellipse): readonly Handle[] {
  const { centre, semiAxes, angle } = hole;
  const along: Point = [Math.cos(angle), Math.sin(angle)];
  const across: Point = [-along[1], along[0]];
  const out = (by: Point, length: number): Point => [centre[0] + length * by[0], centre[1] + length * by[1]];
  const axis = (which: 0 | 1): Handle => {
    const by = which === 0 ? along : across;
    const path = `soundHole.semiAxes[${which}]`;
    const set = (value: number): readonly Setting[] => [{ path, kind: "length", value }];
    return {
      id: path,
      owner: "soundHole",
      view: "plan",
      at: out(by, semiAxes[which]),
      look: "end",
      name: which === 0 ? "sound hole, first axis" : "sound hole, second axis",
      free: [true, true],
      targets: [],
      moved: (to) => set(Math.abs((to[0] - centre[0]) * by[0] + (to[1] - centre[1]) * by[1])),
      entries: [{ id: path, label: "half length", kind: "length", value: semiAxes[which], set }],
    };
  };
  const place = (value: Point): readonly Setting[] => [{ path: "soundHole.centre", kind: "place", value }];
  const turn = (value: number): readonly Setting[] => [{ path: "soundHole.angle", kind: "angle", value }];
  const turnEntry: Entry = { id: "soundHole.angle", label: "turn", kind: "angle", value: angle, set: turn };
  return [
    {
      id: "soundHole.centre",
      owner: "soundHole",
      view: "plan",
      at: centre,
      look: "whole",
      name: "sound hole",
      free: [true, true],
      targets: [centreline],
      moved: place,
      entries: [...placeEntries("soundHole.centre", centre, place), turnEntry],
    },
    axis(0),
    axis(1),
    {
      id: "soundHole.angle",
      owner: "soundHole",
      view: "plan",
      at: out(along, semiAxes[0] + 0.018),
      look: "turn",
      name: "turn of the sound hole",
      free: [true, true],
      targets: [
        { kind: "line", at: centre, along: [1, 0], words: "along the centreline" },
        { kind: "line", at: centre, along: [0, 1], words: "square to the centreline" },
      ],
      moved: (to) => {
        const raw = Math.atan2(to[1] - centre[1], to[0] - centre[0]);
        // half a turn on is the same ellipse: the one nearer to what was
        const half = Math.PI * Math.round((angle - raw) / Math.PI);
        return turn(raw + half);
      },
      entries: [turnEntry],
    },
  ];
}

/** The whole of a hole that is drawn through points. */
export function holeCurveHandle(points: Float64Array): Handle {
  let [x, y] = [0, 0];
  const n = points.length / 2;
  for (let i = 0; i < points.length; i += 2) [x, y] = [x + points[i]! / n, y + points[i + 1]! / n];
  const at: Point = [x, y];
  const moved = (to: Point): readonly Setting[] => [
    {
      path: "soundHole.points",
      kind: "points",
      value: points.map((v, i) => v + (i % 2 === 0 ? to[0] - x : to[1] - y)),
    },
  ];
  return {
    id: "soundHole",
    owner: "soundHole",
    view: "plan",
    at,
    look: "whole",
    name: "sound hole",
    free: [true, true],
    targets: [centreline],
    moved,
    entries: placeEntries("soundHole", at, moved),
  };
}

/** The places a cutaway is stated by: its deepest place, the horn's tip, the corner beside the neck. */
export function cutawayHandles(
  cutaway: CutawaySpec,
  shown: Pick<SketchCutaway, "places" | "edge">,
  length: number,
): readonly Handle[] {
  const placeOf = (name: string): Point => shown.places.find((p) => p.name === name)?.place ?? [length, 0];
  const foremost = extreme(shown.edge, (x) => x, placeOf("horn tip"), 0.03);
  const deepest = extreme(shown.edge, (x) => -x, placeOf("scoop"), 0.03);
  const figure = (key: keyof CutawaySpec, label: string, kind: "length" | "angle" = "length"): Entry => ({
    id: `cutaway.${key}`,
    label,
    kind,
    value: typeof cutaway[key] === "number" ? cutaway[key] : Number.NaN,
    set: (value) => [{ path: `cutaway.${key}`, kind, value }],
  });
  const handle = (
    key: keyof CutawaySpec,
    name: string,
    at: Point,
    free: Handle["free"],
    value: (to: Point) => number,
    entries: readonly Entry[],
  ): Handle => ({
    id: `cutaway.${key}`,
    owner: "cutaway",
    view: "plan",
    at,
    look: "weight",
    name,
    free,
    targets: [],
    moved: (to) => [{ path: `cutaway.${key}`, kind: "length", value: value(to) }],
    entries,
  });
  return [
    handle("depth", "cutaway, deepest place", deepest, [true, false], (to) => length - to[0], [
      figure("depth", "depth from the neck end"),
      figure(
        "scoopRadius",
        cutaway.scoopRadius === null ? "radius (free: as the batten falls)" : "radius in the scoop",
      ),
      figure("neckAngle", "angle beside the neck", "angle"),
    ]),
    handle("tipSetback", "cutaway, tip of the horn", foremost, [true, false], (to) => length - to[0], [
      figure("tipSetback", "set back from the neck end"),
      figure("tipRadius", "radius at the tip"),
    ]),
    handle(
      "neckOffset",
      "cutaway, corner beside the neck",
      placeOf("corner"),
      [false, true],
      (to) => Math.abs(to[1]),
      [figure("neckOffset", "from the centreline"), figure("cornerRadius", "radius of the corner")],
    ),
  ];
}

/** The point of a chain that is farthest by a measure, within `reach` of a place. */
function extreme(chain: Float64Array, measure: (x: number) => number, near: Point, reach: number): Point {
  let best: Point = near;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < chain.length; i += 2) {
    const [x, y] = [chain[i]!, chain[i + 1]!];
    if (Math.hypot(x - near[0], y - near[1]) > reach || measure(x) <= most) continue;
    most = measure(x);
    best = [x, y];
  }
  return best;
}
