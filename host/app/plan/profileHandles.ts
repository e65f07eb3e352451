import type { SketchBrace } from "#engine/pipeline";
import { heightAlong } from "./cut.ts";
import type { Entry, Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";

/** A brace seen from its side: its full height, its tips, its valley, its points, each at its place along it. */
export function profileHandles(brace: SketchBrace): readonly Handle[] {
  const [start, end] = brace.onPlate;
  const long = end - start;
  const { profile } = brace;
  const figure = (key: string, label: string, value: number): Entry => ({
    id: `${brace.path}.${key}`,
    label,
    kind: "length",
    value,
    set: (v) => [length(brace, key, v)],
  });
  const handle = (
    key: string,
    name: string,
    at: Handle["at"],
    free: Handle["free"],
    moved: Handle["moved"],
    entries: readonly Entry[],
  ): Handle => ({
    id: `${brace.path}.${key}`,
    owner: brace.path,
    view: "profile",
    at,
    look: "height",
    name: `${brace.name}, ${name}`,
    free,
    targets: [],
    fine: true,
    moved,
    entries,
  });
  const whole = handle(
    "height",
    "height",
    [crestOf(brace), brace.height],
    [false, true],
    (to) => [length(brace, "height", Math.max(0.001, to[1]))],
    [figure("height", "full height", brace.height), figure("width", "width", brace.width)],
  );
  if (profile.kind === "points")
    return profile.heights.map(([s, h], i) =>
      handle(
        `profile.heights[${i}]`,
        `point ${i + 1}`,
        [s, h],
        [true, true],
        (to) => [
          length(brace, `profile.heights[${i}][0]`, Math.max(0, to[0])),
          length(brace, `profile.heights[${i}][1]`, Math.max(0, to[1])),
        ],
        [
          figure(`profile.heights[${i}][0]`, "from the start", s),
          figure(`profile.heights[${i}][1]`, "height", h),
        ],
      ),
    );
  if (profile.kind === "uniform") return [whole];
  const tip = (which: 0 | 1): readonly Handle[] => {
    const name = which === 0 ? "first tip" : "last tip";
    const [height, reach] = [profile.tipHeight[which], profile.tipLength[which]];
    const s = (distance: number): number => (which === 0 ? distance : long - distance);
    const figures = [
      figure(`profile.tipHeight[${which}]`, "height of the tip", height),
      figure(`profile.tipLength[${which}]`, "length of the scooped end", reach),
    ];
    return [
      handle(
        `profile.tipHeight[${which}]`,
        `${name}, height`,
        [s(0), height],
        [false, true],
        (to) => [length(brace, `profile.tipHeight[${which}]`, Math.max(0, to[1]))],
        figures,
      ),
      handle(
        `profile.tipLength[${which}]`,
        `${name}, length`,
        // inside the wood: where both ends begin in the middle, the full height is there too
        [s(reach), heightAlong(brace.heights, s(reach)) / 2],
        [true, false],
        (to) => [length(brace, `profile.tipLength[${which}]`, Math.max(0, s(to[0])))],
        [...figures].reverse(),
      ),
    ];
  };
  const valley =
    profile.kind !== "scalloped"
      ? []
      : [
          handle(
            "profile.valleyAt",
            "valley",
            [profile.valleyAt, profile.valleyHeight],
            [true, true],
            (to) => [
              length(brace, "profile.valleyAt", Math.max(0, to[0])),
              length(brace, "profile.valleyHeight", Math.max(0, to[1])),
            ],
            [
              figure("profile.valleyAt", "from the start", profile.valleyAt),
              figure("profile.valleyHeight", "height in the valley", profile.valleyHeight),
              figure("profile.valleyLength", "length of the valley", profile.valleyLength),
            ],
          ),
        ];
  return [whole, ...tip(0), ...valley, ...tip(1)];
}

function length(brace: SketchBrace, key: string, value: number): Setting {
  return { path: `${brace.path}.${key}`, kind: "length", value };
}

/** Middle of the longest stretch at full height: clear of the places where the ends begin to fall. */
function crestOf({ heights, height }: SketchBrace): number {
  let best: readonly [from: number, to: number] | null = null;
  let from: number | null = null;
  for (let i = 0; i < heights.length; i += 2) {
    const [s, h] = [heights[i]!, heights[i + 1]!];
    if (h < height - 1e-9) {
      from = null;
      continue;
    }
    from ??= s;
    if (best === null || s - from > best[1] - best[0]) best = [from, s];
  }
  return best === null ? (heights[0]! + heights.at(-2)!) / 2 : (best[0] + best[1]) / 2;
}
