import type { Point } from "#engine/geometry";

/** What a place under the hand may come to rest on. */
export type SnapTarget =
  | { readonly kind: "point"; readonly at: Point; readonly words: string }
  /** A straight line through `at`; the place slides along it by the step of the rule, counted from `at`. */
  | { readonly kind: "line"; readonly at: Point; readonly along: Point; readonly words: string };

export interface Snapped {
  readonly at: Point;
  /** What it came to rest on, to be shown; null: the rule alone, or nothing. */
  readonly target: SnapTarget | null;
}

export interface SnapRule {
  /** Step of the maker's rule, m, and where its marks are counted from. */
  readonly step: number;
  readonly from: Point;
  /** How near a target draws the hand, m. */
  readonly reach: number;
  /** Nothing draws the hand and nothing is rounded. */
  readonly off: boolean;
  /** Which of the two coordinates the hand moves; the others stay as they are given. */
  readonly free: readonly [boolean, boolean];
}

/** Where the hand comes to rest: on the nearest point in reach, else on the nearest line, else on the marks of the rule. */
export function snapped(raw: Point, targets: readonly SnapTarget[], rule: SnapRule): Snapped {
  if (rule.off) return { at: raw, target: null };
  const both = rule.free[0] && rule.free[1];
  let best: { readonly at: Point; readonly target: SnapTarget; readonly gap: number } | null = null;
  for (const target of targets) {
    const at =
      target.kind === "point"
        ? pointOn(raw, target.at, rule.free)
        : both
          ? lineOn(raw, target, rule.step)
          : axisOn(raw, target, rule);
    if (at === null) continue;
    const gap =
      target.kind === "point" || !both ? Math.hypot(at[0] - raw[0], at[1] - raw[1]) : lineGap(raw, target);
    if (gap > rule.reach) continue;
    const rank = (t: SnapTarget): number => (t.kind === "point" ? 0 : 1);
    if (
      best === null ||
      rank(target) < rank(best.target) ||
      (rank(target) === rank(best.target) && gap < best.gap)
    )
      best = { at, target, gap };
  }
  if (best !== null) return { at: best.at, target: best.target };
  const marked = (v: number, axis: 0 | 1): number =>
    rule.from[axis] + Math.round((v - rule.from[axis]) / rule.step) * rule.step;
  return {
    at: [rule.free[0] ? marked(raw[0], 0) : raw[0], rule.free[1] ? marked(raw[1], 1) : raw[1]],
    target: null,
  };
}

function pointOn(raw: Point, at: Point, free: SnapRule["free"]): Point {
  return [free[0] ? at[0] : raw[0], free[1] ? at[1] : raw[1]];
}

/** The mark nearest to the hand on a line. */
function lineOn(raw: Point, line: Extract<SnapTarget, { kind: "line" }>, step: number): Point {
  const [ux, uy] = unit(line.along);
  const s = (raw[0] - line.at[0]) * ux + (raw[1] - line.at[1]) * uy;
  const marked = Math.round(s / step) * step;
  return [line.at[0] + marked * ux, line.at[1] + marked * uy];
}

function lineGap(raw: Point, line: Extract<SnapTarget, { kind: "line" }>): number {
  const [ux, uy] = unit(line.along);
  return Math.abs((raw[0] - line.at[0]) * uy - (raw[1] - line.at[1]) * ux);
}

/** Where the one free coordinate meets a line; null where the line runs along it. */
function axisOn(raw: Point, line: Extract<SnapTarget, { kind: "line" }>, rule: SnapRule): Point | null {
  const [ux, uy] = unit(line.along);
  if (rule.free[0]) {
    if (Math.abs(uy) < 1e-9) return null;
    return [line.at[0] + ((raw[1] - line.at[1]) * ux) / uy, raw[1]];
  }
  if (Math.abs(ux) < 1e-9) return null;
  return [raw[0], line.at[1] + ((raw[0] - line.at[0]) * uy) / ux];
}

function unit([x, y]: Point): Point {
  const length = Math.hypot(x, y);
  return [x / length, y / length];
}
