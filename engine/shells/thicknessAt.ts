import type { ThicknessField } from "./panel.ts";

/** Plate thickness at a plan point: uniform, or caliper spots weighted by inverse square distance (never overshoots). */
export function thicknessAt(field: ThicknessField, x: number, y: number): number {
  if (typeof field === "number") return field;
  let sum = 0;
  let weights = 0;
  for (const [sx, sy, value] of field.spots) {
    const d2 = (x - sx) ** 2 + (y - sy) ** 2;
    if (d2 === 0) return value;
    sum += value / d2;
    weights += 1 / d2;
  }
  return sum / weights;
}
