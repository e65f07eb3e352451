import type { Point } from "#engine/geometry";
import type { InstrumentSketch, LiveChange, SketchBrace } from "#engine/pipeline";
import type { Setting } from "./settings.ts";

/** What of the settings the hand's model can follow: braces laid elsewhere, and lengths by their factor. */
export function liveChange(
  sketch: InstrumentSketch,
  settings: readonly Setting[],
  movable: readonly string[],
): LiveChange {
  const can = new Set(movable);
  const moves = new Map<string, { from: Point; to: Point; inset: number }>();
  const factors: { parameter: string; factor: number }[] = [];
  for (const setting of settings) {
    const found = /^((top|back)\.braces\[(\d+)\])\.(\w+)$/.exec(setting.path);
    const [, path, plate, index, key] = found ?? [];
    const brace = plate === undefined ? null : braceAt(sketch, plate as "top" | "back", Number(index));
    if (brace !== null && path !== undefined) {
      if (setting.kind === "place" && (key === "from" || key === "to")) {
        const move = moves.get(path) ?? { from: brace.from, to: brace.to, inset: brace.inset };
        moves.set(path, { ...move, [key]: setting.value });
      } else if (setting.kind === "length" && (key === "width" || key === "height") && can.has(setting.path))
        factors.push({ parameter: setting.path, factor: setting.value / brace[key] });
    } else if (
      setting.kind === "length" &&
      /^(top|back)\.thickness$/.test(setting.path) &&
      can.has(setting.path)
    ) {
      const which = setting.path.startsWith("top") ? sketch.top : sketch.back;
      factors.push({ parameter: setting.path, factor: setting.value / which.meanThickness });
    }
  }
  return [
    ...factors,
    ...[...moves].filter(([path]) => can.has(path)).map(([brace, move]) => ({ brace, ...move })),
  ];
}

function braceAt(sketch: InstrumentSketch, plate: "top" | "back", index: number): SketchBrace | null {
  return sketch[plate].braces[index] ?? null;
}
