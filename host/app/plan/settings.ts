import { type BattenWeight, braceHeights, clipBrace, type Point } from "#engine/geometry";
import type { InstrumentSketch, SketchBrace, SketchPlate } from "#engine/pipeline";
import { type FieldChange, stepsOf } from "../bench/index.ts";
import { typedAngle, typedExactly, typedLength, type Units } from "./typed.ts";

/** A field of the document and what the hand sets it to, SI. "points" is typed to 0.01 mm, whatever the unit. */
export type Setting =
  | { readonly path: string; readonly kind: "length" | "angle"; readonly value: number }
  | { readonly path: string; readonly kind: "place"; readonly value: Point }
  | { readonly path: string; readonly kind: "points"; readonly value: Float64Array }
  | { readonly path: string; readonly kind: "word"; readonly value: string }
  /** Weights of a batten: the curve round them is solved in the worker and typed as points. */
  | {
      readonly path: "outline" | "soundHole";
      readonly kind: "weights";
      readonly value: readonly BattenWeight[];
    }
  | { readonly path: string; readonly kind: "none" };

/** The settings as the maker would have typed them; weights are not typed. */
export function typedChanges(settings: readonly Setting[], units: Units): readonly FieldChange[] {
  return settings.flatMap((setting) => {
    const change = typedChange(setting, units);
    return change === null ? [] : [change];
  });
}

function typedChange(setting: Setting, units: Units): FieldChange | null {
  switch (setting.kind) {
    case "length":
      return { path: setting.path, value: typedLength(setting.value, units) };
    case "angle":
      return { path: setting.path, value: typedAngle(setting.value) };
    case "place":
      return { path: setting.path, value: setting.value.map((v) => typedLength(v, units)) };
    case "points":
      return {
        path: setting.path,
        value: Array.from({ length: setting.value.length / 2 }, (_, i) => [
          typedExactly(setting.value[2 * i]!),
          typedExactly(setting.value[2 * i + 1]!),
        ]),
      };
    case "word":
      return { path: setting.path, value: setting.value };
    case "none":
      return { path: setting.path, value: undefined };
    case "weights":
      return null;
  }
}

/** What is worked on, under the document's own names. */
export interface Worked {
  readonly outline: InstrumentSketch["shape"]["outline"];
  readonly cutaway: InstrumentSketch["shape"]["cutaway"];
  readonly soundHole: InstrumentSketch["shape"]["hole"];
  readonly top: Pick<SketchPlate, "braces" | "dome" | "region">;
  readonly back: Pick<SketchPlate, "braces" | "dome" | "region">;
  readonly sides: { readonly depthAtTail: number; readonly depthAtNeck: number };
}

export function workedOf(sketch: InstrumentSketch): Worked {
  const { shape, top, back, sides } = sketch;
  return { outline: shape.outline, cutaway: shape.cutaway, soundHole: shape.hole, top, back, sides };
}

/** The same with the settings made: braces that are touched are cut at the plate's edge anew. */
export function withSettings(worked: Worked, settings: readonly Setting[]): Worked {
  let out: Worked = worked;
  const touched = new Set<string>();
  for (const setting of settings) {
    if (setting.kind === "weights") continue;
    const value = setting.kind === "none" ? undefined : setting.value;
    out = placed(out, stepsOf(setting.path), value) as Worked;
    const brace = /^(top|back)\.braces\[\d+\]/.exec(setting.path)?.[0];
    if (brace !== undefined) touched.add(brace);
  }
  for (const path of touched) {
    const plate = path.startsWith("top") ? out.top : out.back;
    const brace = plate.braces[Number(/\d+/.exec(path)?.[0])];
    if (brace !== undefined) out = placed(out, stepsOf(path), onPlate(brace, plate)) as Worked;
  }
  return out;
}

function placed(whole: unknown, steps: readonly (string | number)[], value: unknown): unknown {
  const [first, ...rest] = steps;
  if (first === undefined) return value;
  if (Array.isArray(whole)) return whole.map((part, i) => (i === first ? placed(part, rest, value) : part));
  const group = (whole ?? {}) as Record<string, unknown>;
  return { ...group, [first]: placed(group[first], rest, value) };
}

/** The brace cut at the edge; as drawn, whole, where nothing of it would lie on the plate: the check refuses it in words. */
function onPlate(brace: SketchBrace, plate: Pick<SketchPlate, "region">): SketchBrace {
  const clipped = clipBrace(plate.region, brace);
  if (!clipped.ok) return { ...brace, pieces: [] };
  const start = clipped.value[0]?.start ?? 0;
  const length = (clipped.value.at(-1)?.end ?? start) - start;
  const rows = braceHeights(brace, length);
  return {
    ...brace,
    onPlate: [start, start + length],
    heights: rows.ok ? Float64Array.from(rows.value.flat()) : new Float64Array(0),
    pieces: clipped.value.map(({ from, to, start: s, end }) => ({
      path: Float64Array.of(...from, ...to),
      start: s - start,
      end: end - start,
    })),
  };
}
