import { type DomeSpec, domeHeight, type HoleSpec, type Polygon } from "#engine/geometry";
import type { InstrumentSketch, SketchPlate } from "#engine/pipeline";
import type { BattenShape } from "./battenTalk.ts";
import { type Setting, type Worked, withSettings, workedOf } from "./settings.ts";

/**
 * The sketch as the hand has it: what the settings touch is drawn anew, all else stays the very same objects, so that nothing of it
 * is drawn again. `bent` is the curve that the batten's worker has solved. The engine's own sketch of the new document takes
 * its place once the hand has let go.
 */
export function draftedSketch(
  sketch: InstrumentSketch,
  settings: readonly Setting[],
  bent: Exclude<BattenShape, { kind: "laid" }> | null,
): InstrumentSketch {
  if (settings.length === 0) return sketch;
  const worked = withSettings(workedOf(sketch), settings);
  const touched = (start: string): boolean => settings.some(({ path }) => path.startsWith(start));
  let out = sketch;
  if (touched("top.")) out = { ...out, top: plate(sketch.top, worked.top) };
  if (touched("back.")) out = { ...out, back: plate(sketch.back, worked.back) };
  if (touched("sides.") || touched("top.dome") || touched("back.dome"))
    out = { ...out, sides: sides(out, worked) };
  if (bent?.kind === "outline")
    out = {
      ...out,
      outline: bent.edge,
      fullOutline: bent.full,
      fairness: bent.fairness === null ? out.fairness : { ...out.fairness, outline: bent.fairness },
    };
  if (touched("soundHole")) {
    const edge =
      bent?.kind === "hole"
        ? bent.edge
        : holeEdge(worked.soundHole, sketch.shape.hole, sketch.hole.edge, settings);
    out = { ...out, hole: { ...out.hole, edge, inside: edge }, openEdge: [] };
  }
  return {
    ...out,
    shape: { outline: worked.outline, cutaway: worked.cutaway, hole: worked.soundHole },
  };
}

function plate(before: SketchPlate, { braces, dome }: Worked["top"]): SketchPlate {
  // the dome's mean along the edge goes as its curvature, to the square of (size / radius)
  const edgeHeight =
    dome === null || before.dome === null
      ? before.edgeHeight
      : (before.edgeHeight * before.dome.radius) / dome.radius;
  return { ...before, braces, dome, edgeHeight };
}

/** What the rim's planes are apart so that the box is as deep at both ends as stated. */
function sides(
  { sides: before, top, back, length }: InstrumentSketch,
  worked: Worked,
): InstrumentSketch["sides"] {
  const { depthAtTail, depthAtNeck } = worked.sides;
  const off = (x: number): number =>
    [top, back].reduce((sum, { dome, edgeHeight }) => sum + domeHeight(dome, x, 0) - edgeHeight, 0);
  return {
    ...before,
    depthAtTail,
    depthAtNeck,
    rim: { depthAtTail: depthAtTail - off(0), depthAtNeck: depthAtNeck - off(length) },
  };
}

const ellipseCorners = 96;

function holeEdge(hole: HoleSpec, from: HoleSpec, before: Polygon, settings: readonly Setting[]): Polygon {
  if (hole.kind === "ellipse") {
    const [cos, sin] = [Math.cos(hole.angle), Math.sin(hole.angle)];
    const [a, b] = hole.semiAxes;
    return Float64Array.from({ length: 2 * ellipseCorners }, (_, i) => {
      const t = (2 * Math.PI * Math.floor(i / 2)) / ellipseCorners;
      const [u, v] = [a * Math.cos(t), b * Math.sin(t)];
      return i % 2 === 0 ? hole.centre[0] + cos * u - sin * v : hole.centre[1] + sin * u + cos * v;
    });
  }
  // moved as a whole: as far as the first of its points
  const moved = settings.find((s) => s.kind === "points" && s.path === "soundHole.points");
  if (moved?.kind !== "points" || from.kind !== "curve") return before;
  const by = [moved.value[0]! - from.points[0]!, moved.value[1]! - from.points[1]!] as const;
  return before.map((v, i) => v + by[i % 2 === 0 ? 0 : 1]);
}

/** How far a dome rises from its mean along the edge to its apex, m. */
export function domeRise({
  dome,
  edgeHeight,
}: {
  readonly dome: DomeSpec | null;
  readonly edgeHeight: number;
}): number {
  return dome === null ? 0 : -edgeHeight;
}
