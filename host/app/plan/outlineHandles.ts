import type { BattenWeight, OutlineSpec, Point } from "#engine/geometry";
import type { Entry, Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";
import type { SnapTarget } from "./snap.ts";

type Dimensions = Extract<OutlineSpec, { kind: "dimensions" }>;
type Bout = "lowerBout" | "waist" | "upperBout";
type Side = "bass" | "treble";

const bouts: readonly (readonly [Bout, string])[] = [
  ["lowerBout", "lower bout"],
  ["waist", "waist"],
  ["upperBout", "upper bout"],
];

/** The weights of an outline from dimensions: both sides of each bout, of the waist, and the neck end. */
export function dimensionHandles(outline: Dimensions): readonly Handle[] {
  return [
    ...(["bass", "treble"] as const).flatMap((side) =>
      bouts.map(([bout, name]) => weight(outline, side, bout, name)),
    ),
    neckEnd(outline),
    tail(outline),
  ];
}

function weight(outline: Dimensions, side: Side, bout: Bout, name: string): Handle {
  const { station, width } = outline[bout];
  const shift = outline.asymmetry?.[side]?.[bout];
  const [along, outward] = [shift?.along ?? 0, shift?.outward ?? 0];
  const sign = side === "bass" ? 1 : -1;
  const at: Point = [station + along, sign * (width / 2 + outward)];
  const moved = (to: Point, alone: boolean): readonly Setting[] => {
    const out = sign * to[1];
    if (alone) {
      const path = `outline.asymmetry.${side}.${bout}`;
      return changed([
        [`${path}.along`, to[0] - station, along],
        [`${path}.outward`, out - width / 2, outward],
      ]);
    }
    return changed([
      [`outline.${bout}.station`, to[0] - along, station],
      [`outline.${bout}.width`, 2 * (out - outward), width],
    ]);
  };
  const entry = (id: string, label: string, value: number, to: (v: number) => Point): Entry => ({
    id: `outline.${bout}.${side}.${id}`,
    label,
    kind: "length",
    value,
    set: (v, alone) => moved(to(v), alone),
  });
  return {
    id: `outline.${bout}.${side}`,
    owner: "outline",
    view: "plan",
    at,
    look: "weight",
    name: `${name}, ${side} side`,
    free: [true, true],
    targets: [],
    moved,
    entries: [
      entry("width", "full width", width, (v) => [at[0], sign * (v / 2 + outward)]),
      entry("station", "from the tail", at[0], (v) => [v, at[1]]),
    ],
  };
}

function changed(
  rows: readonly (readonly [path: string, value: number, before: number])[],
): readonly Setting[] {
  return rows
    .filter(([, value, before]) => Math.abs(value - before) > 1e-9)
    .map(([path, value]) => ({ path, kind: "length", value }));
}

function neckEnd(outline: Dimensions): Handle {
  const moved = (to: Point): readonly Setting[] => [{ path: "outline.length", kind: "length", value: to[0] }];
  return {
    id: "outline.length",
    owner: "outline",
    view: "plan",
    at: [outline.length, 0],
    look: "weight",
    name: "neck end",
    free: [true, false],
    targets: [],
    moved,
    entries: [
      {
        id: "outline.length",
        label: "body length",
        kind: "length",
        value: outline.length,
        set: (v) => moved([v, 0]),
      },
      ...radius("outline.neckRadius", outline.neckRadius),
    ],
  };
}

/** The tail is the origin and does not move; its radius can be typed. */
function tail(outline: Dimensions): Handle {
  return {
    id: "outline.tailRadius",
    owner: "outline",
    view: "plan",
    at: [0, 0],
    look: "weight",
    name: "tail",
    free: [false, false],
    targets: [],
    moved: () => [],
    note: "The tail is the origin of the body: it stays.",
    entries: radius("outline.tailRadius", outline.tailRadius),
  };
}

/** A radius that the fairest curve gives by itself is not known here: it is typed to be held. */
function radius(path: string, value: number | null): readonly Entry[] {
  return [
    {
      id: path,
      label: value === null ? "radius (free: as the batten falls)" : "radius",
      kind: "length",
      value: value ?? Number.NaN,
      set: (v) => [{ path, kind: "length", value: v }],
    },
  ];
}

/** Weights of a batten laid along a curve; the settings they make are solved in the worker ("weights"). */
export function battenHandles(
  owner: "outline" | "soundHole",
  weights: readonly BattenWeight[],
): readonly Handle[] {
  return weights.map((weightHere, i): Handle => {
    const { at } = weightHere;
    // the tail is the origin of the body
    const fixed = owner === "outline" && i === 0;
    const partner = weights.findIndex((w) => Math.hypot(w.at[0] - at[0], w.at[1] + at[1]) < 0.004);
    const moved = (to: Point, alone: boolean): readonly Setting[] => {
      const by: Point = [to[0] - at[0], to[1] - at[1]];
      const mirrored = owner === "outline" && !alone && partner >= 0 && partner !== i;
      const value = weights.map((w, k): BattenWeight => {
        if (k === i) return { ...w, at: to };
        if (mirrored && k === partner) return { ...w, at: [w.at[0] + by[0], w.at[1] - by[1]] };
        return w;
      });
      return [{ path: owner, kind: "weights", value }];
    };
    return {
      id: `${owner}.weight.${i}`,
      owner,
      view: "plan",
      at,
      look: "weight",
      name: owner === "outline" ? `weight ${i + 1} of the outline` : `weight ${i + 1} of the hole`,
      free: fixed
        ? [false, false]
        : owner === "outline" && Math.abs(at[1]) < 1e-6
          ? [true, false]
          : [true, true],
      targets: weights
        .filter((_, k) => k !== i)
        .map(
          (w): SnapTarget => ({
            kind: "point",
            at: [w.at[0], -w.at[1]],
            words: "mirror image of the other side",
          }),
        ),
      moved,
      ...(fixed
        ? { note: "The tail is the origin of the body: it stays." }
        : { takenOff: () => [{ path: owner, kind: "weights", value: weights.filter((_, k) => k !== i) }] }),
      entries: fixed
        ? []
        : [
            {
              id: `${owner}.weight.${i}.x`,
              label: "from the tail",
              kind: "length",
              value: at[0],
              set: (v, alone) => moved([v, at[1]], alone),
            },
            {
              id: `${owner}.weight.${i}.y`,
              label: "to the bass side",
              kind: "length",
              value: at[1],
              set: (v, alone) => moved([at[0], v], alone),
            },
          ],
    };
  });
}
