import { fromUnit, inUnit, parseQuantity } from "#engine/units";
import type { Json } from "../bench/index.ts";
import { kindOf } from "./shape.ts";

type Group = { readonly [key: string]: Json };
type Place = readonly [number, number];

/** What the drawing knows beyond the text, mm: the outline before a cutaway, x and y in turn from the tail. */
export interface DrawnPlan {
  readonly fullOutlineMm: readonly number[];
}

/**
 * Starts for a form that is switched to, from the form that was there, so that the instrument stays as near to itself as the
 * new form can say it: points along the same curve, an ellipse round the same place, heights of the same brace. `keys` lead
 * to the choice, indices left out; `holder` is the group it stands in.
 */
export function switchHints(
  keys: readonly string[],
  value: Json,
  kind: string,
  holder: Json,
  plan: DrawnPlan | null,
): Group {
  const old = (value ?? {}) as Group;
  const key = keys.at(-1);
  if (key === "outline")
    return kind === "points" ? outlinePoints(plan) : outlineDimensions(placesOf(old["points"]));
  if (key === "soundHole" || key === "shape")
    return kind === "ellipse"
      ? ellipseRound(placesOf(old["points"]))
      : pointsRound(old, key === "shape" ? 12 : 16);
  if (key === "profile") return profileHints(kind, (holder ?? {}) as Group);
  if (key === "construction") return stringHints(old, kind);
  if (key === "scale") return scaleHints(old, kind);
  return {};
}

function outlinePoints(plan: DrawnPlan | null): Group {
  if (plan === null) return {};
  const { fullOutlineMm: flat } = plan;
  const count = flat.length / 2;
  const along = lengths(flat);
  const total = along.at(-1) ?? 0;
  // Even steps along the edge; both ends of the centreline are among them in a symmetric body.
  const steps = 48;
  const points: Place[] = [];
  for (let step = 0, i = 0; step < steps; step++) {
    const at = (step * total) / steps;
    while (i + 1 < count && (along[i + 1] ?? total) < at) i++;
    const [from, to] = [along[i] ?? 0, along[i + 1] ?? total];
    const share = to > from ? (at - from) / (to - from) : 0;
    const next = (i + 1) % count;
    points.push([
      mix(flat[2 * i] ?? 0, flat[2 * next] ?? 0, share),
      mix(flat[2 * i + 1] ?? 0, flat[2 * next + 1] ?? 0, share),
    ]);
  }
  return { points: points.map((place, i) => (i === 0 ? ["0 mm", "0 mm"] : typed(place))) };
}

/** Distances along a closed chain to each of its points, and its whole length last. */
function lengths(flat: readonly number[]): number[] {
  const sums = [0];
  for (let i = 0; i < flat.length; i += 2) {
    const next = (i + 2) % flat.length;
    const step = Math.hypot((flat[next] ?? 0) - (flat[i] ?? 0), (flat[next + 1] ?? 0) - (flat[i + 1] ?? 0));
    sums.push((sums.at(-1) ?? 0) + step);
  }
  return sums;
}

/** Widths and stations read off the points: the widest places of both bouts and the narrowest between them. */
function outlineDimensions(points: readonly Place[]): Group {
  if (points.length < 6) return {};
  const length = Math.max(...points.map(([x]) => x));
  const width = (station: number): number => {
    const cuts = points.map((from, i) => {
      const to = points[(i + 1) % points.length] ?? from;
      const low = Math.min(from[0], to[0]);
      if (station < low || station > Math.max(from[0], to[0]) || from[0] === to[0]) return 0;
      return Math.abs(mix(from[1], to[1], (station - from[0]) / (to[0] - from[0])));
    });
    return 2 * Math.max(...cuts);
  };
  const stations = Array.from({ length: 81 }, (_, i) => (length * (i + 5)) / 91);
  const best = (from: number, to: number, least: boolean): number =>
    stations
      .filter((x) => x >= from * length && x <= to * length)
      .reduce((a, b) => (least === width(b) < width(a) ? b : a));
  const lower = best(0.1, 0.5, false);
  const upper = best(0.7, 0.95, false);
  const waist = best(lower / length, upper / length, true);
  const at = (station: number) => ({ width: mm(width(station)), station: mm(station) });
  return { length: mm(length), lowerBout: at(lower), waist: at(waist), upperBout: at(upper) };
}

function pointsRound(ellipse: Group, count: number): Group {
  const [centre, half] = [placeOf(ellipse["centre"]), placeOf(ellipse["semiAxes"])];
  if (centre === null || half === null) return {};
  const turn = siOf(ellipse["angle"], "angle") ?? 0;
  const points = Array.from({ length: count }, (_, i): Place => {
    const a = (2 * Math.PI * i) / count;
    const [u, v] = [half[0] * Math.cos(a), half[1] * Math.sin(a)];
    return [
      centre[0] + u * Math.cos(turn) - v * Math.sin(turn),
      centre[1] + u * Math.sin(turn) + v * Math.cos(turn),
    ];
  });
  return { points: points.map(typed) };
}

function ellipseRound(points: readonly Place[]): Group {
  if (points.length < 3) return {};
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const middle = (all: readonly number[]): number => (Math.max(...all) + Math.min(...all)) / 2;
  const half = (all: readonly number[]): number => (Math.max(...all) - Math.min(...all)) / 2;
  return { centre: typed([middle(xs), middle(ys)]), semiAxes: typed([half(xs), half(ys)]) };
}

function profileHints(kind: string, brace: Group): Group {
  const [from, to] = [placeOf(brace["from"]), placeOf(brace["to"])];
  const height = lengthOf(brace["height"]);
  if (from === null || to === null || height === null) return {};
  // The plate's edge may cut the brace shorter than it is drawn; its inside two thirds are always there.
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const tip = mm(Math.min(2, height / 3));
  const scoop = mm(0.15 * length);
  const tips: Group = { tipHeight: [tip, tip], tipLength: [scoop, scoop] };
  if (kind === "tapered") return tips;
  if (kind === "scalloped")
    return {
      ...tips,
      valleyAt: mm(0.45 * length),
      valleyHeight: mm(0.6 * height),
      valleyLength: mm(0.3 * length),
    };
  if (kind === "points")
    return {
      heights: [
        ["0 mm", tip],
        [scoop, mm(height)],
        [mm(0.7 * length), mm(height)],
        [mm(0.9 * length), tip],
      ],
    };
  return {};
}

function stringHints(old: Group, kind: string): Group {
  if (kindOf(old) === kind) return {};
  if (kind === "wound") {
    const plain = lengthOf(old["diameter"]);
    if (plain === null) return {};
    // Core and wraps in the shares that sets of light gauge have (common practice, no source).
    return {
      core: inchText(0.48 * plain),
      coreShape: "hex",
      wraps: [{ diameter: inchText(0.26 * plain), material: "phosphor-bronze" }],
    };
  }
  const core = lengthOf(old["core"]);
  const wraps = Array.isArray(old["wraps"]) ? (old["wraps"] as readonly Group[]) : [];
  if (core === null) return {};
  const outside = wraps.reduce((sum, wrap) => sum + 2 * (lengthOf(wrap["diameter"]) ?? 0), core);
  return { diameter: inchText(outside), material: old["coreMaterial"] ?? "steel" };
}

function scaleHints(old: Group, kind: string): Group {
  if (kind === "skewed") {
    const length = lengthOf(old["length"]);
    return length === null ? {} : { bass: mm(length), treble: mm(length - 12) };
  }
  const [bass, treble] = [lengthOf(old["bass"]), lengthOf(old["treble"])];
  return bass === null || treble === null ? {} : { length: mm((bass + treble) / 2) };
}

function siOf(value: Json | undefined, kind: "length" | "angle"): number | null {
  const parsed = typeof value === "string" ? parseQuantity(value, kind) : null;
  return parsed?.ok ? parsed.value : null;
}

function lengthOf(value: Json | undefined): number | null {
  const metres = siOf(value, "length");
  return metres === null ? null : inUnit(metres, "mm");
}

function placeOf(value: Json | undefined): Place | null {
  if (!Array.isArray(value)) return null;
  const [x, y] = (value as readonly Json[]).map(lengthOf);
  return x == null || y == null ? null : [x, y];
}

function placesOf(value: Json | undefined): readonly Place[] {
  if (!Array.isArray(value)) return [];
  return (value as readonly Json[]).map(placeOf).filter((place) => place !== null);
}

const mix = (a: number, b: number, share: number): number => a + (b - a) * share;
const typed = (place: Place): Json => place.map(mm);

function mm(value: number): string {
  const text = value.toFixed(1).replace(/\.0$/, "");
  return `${Number(text) === 0 ? "0" : text} mm`;
}

function inchText(millimetres: number): string {
  return `${inUnit(fromUnit(millimetres, "mm"), "in").toFixed(4).replace(/0+$/, "")} in`;
}
