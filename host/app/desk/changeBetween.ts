import type { Build } from "#engine/instrument";
import {
  type BraceMove,
  instrumentSketch,
  type LiveChange,
  type LiveFactor,
  liveParameters,
} from "#engine/pipeline";
import type { OpenedText } from "./openText.ts";

/**
 * How far the ratios of several values that go by one factor may differ, relative: what rounding to a hundredth of a millimetre
 * does to the tip of a brace.
 */
const sameRatio = 0.01;

/** What leads from one instrument to another, and what of it is only nearly so, in words. */
export interface Between {
  readonly change: LiveChange;
  readonly doubts: readonly string[];
}

/**
 * The factors that turn one instrument into another, where values that a hand moves live are all that differs between their
 * documents, or the move of the one brace that lies elsewhere; null: something else differs, too. Empty: nothing that is computed with.
 */
export function changeBetween(before: OpenedText, after: OpenedText): Between | null {
  const places = differences(JSON.parse(before.text), JSON.parse(after.text), "").filter(
    (path) => path !== "name" && !isIn(path, "meant"),
  );
  const change: LiveFactor[] = [];
  const doubts: string[] = [];
  for (const { id } of liveParameters(before.build)) {
    if (!places.some((path) => isIn(path, id))) continue;
    const [was, is] = [valuesAt(before.build, id), valuesAt(after.build, id)];
    const factor = factorBetween(was, is);
    if (factor === null) return null;
    change.push({ parameter: id, factor });
    if (!was.every((value, k) => Math.abs(is[k]! / (value * factor) - 1) < sameRatio))
      doubts.push(
        `${id} was changed without its ends: the hand's model has them in proportion until the full voice is there`,
      );
  }
  const left = places.filter((path) => !change.some(({ parameter }) => isIn(path, parameter)));
  if (left.length === 0) return { change, doubts };
  const move = change.length === 0 ? braceMove(after, left) : null;
  return move === null ? null : { change: [move], doubts };
}

/** The brace whose ends are all that differs, as it lies afterwards; null: it is not. */
function braceMove({ checked }: OpenedText, places: readonly string[]): BraceMove | null {
  const found = places.map((path) => /^((top|back)\.braces\[(\d+)\])\.(from|to)\b/.exec(path));
  const [first] = found;
  if (!first || found.some((one) => one?.[1] !== first[1])) return null;
  const sketch = instrumentSketch(checked);
  const brace = sketch.ok ? sketch.value[first[2] as "top" | "back"].braces[Number(first[3])] : undefined;
  if (brace === undefined) return null;
  const { from, to, inset } = brace;
  return { brace: first[1]!, from, to, inset };
}

const isIn = (path: string, place: string): boolean =>
  path === place || path.startsWith(`${place}.`) || path.startsWith(`${place}[`);

/** Paths of the leaves that differ, as issues name them. */
function differences(a: unknown, b: unknown, path: string): string[] {
  if (a === b) return [];
  if (!isTree(a) || !isTree(b) || Array.isArray(a) !== Array.isArray(b)) return [path];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  const list = Array.isArray(a);
  return [...keys].flatMap((key) =>
    differences(a[key], b[key], list ? `${path}[${key}]` : path === "" ? key : `${path}.${key}`),
  );
}

function isTree(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null;
}

/** What goes by one factor in a live edit of a place of the document; empty: not known how. */
function valuesAt(build: Build, id: string): readonly number[] {
  const brace = /^(top|back)\.braces\[\d+\]/.exec(id);
  if (brace !== null) {
    const pieces = build[brace[1] as "top" | "back"].braces.filter((b) => b.documentPath === brace[0]);
    return id.endsWith(".height")
      ? pieces.flatMap(({ heights }) => heights.map(([, h]) => h))
      : pieces.map(({ width }) => width);
  }
  const plate = /^(top|back)\.thickness$/.exec(id);
  if (plate !== null) {
    const { thickness, meanThickness } = build[plate[1] as "top" | "back"];
    return thickness.kind === "uniform"
      ? [thickness.thickness]
      : [meanThickness, ...thickness.spots.filter((_, k) => k % 3 === 2)];
  }
  if (id === "bridge.thickness") return build.bridge.patches.map(({ thickness }) => thickness);
  return [];
}

/** The factor on the greatest of the values; null: there is none, or not as many. */
function factorBetween(before: readonly number[], after: readonly number[]): number | null {
  if (before.length === 0 || before.length !== after.length) return null;
  const factor = Math.max(...after) / Math.max(...before);
  return Number.isFinite(factor) && factor > 0 ? factor : null;
}
