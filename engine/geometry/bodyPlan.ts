/** From what the maker states to the body in plan: edge, hole, plates as cut, areas and volumes. */
import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { BodySpec, DomeSpec } from "./bodySpec.ts";
import { type CavityDepth, cavityDepth, cavityVolume, insideOf } from "./cavity.ts";
import { selfCrossings } from "./crossings.ts";
import { curveArea, curveLength, type PlaneCurve, sampleCurve } from "./curve.ts";
import { withCutaway } from "./cutaway.ts";
import { trueArea } from "./dome.ts";
import { holeCurve } from "./hole.ts";
import { mirrorPlan } from "./mirror.ts";
import { outlineCurve } from "./outline.ts";
import type { BodyPlan } from "./plan.ts";
import { type PlateRegion, type Point, type Polygon, polygonArea, polygonBounds } from "./polygon.ts";
import { polygonDifference } from "./polygonCut.ts";

/** Land or overlap narrower than this between hole and edge counts as a crossing: such wood does not hold (m). */
const leastLand = 5e-4;
/** Offcuts of the top smaller than this are dropped with a warning; a larger one means the hole cuts the top apart, m2. */
const leastPiece = 1e-4;

/** Holes smaller than a 1 mm square are mistakes, m2. */
const leastHole = 1e-6;
/** Edges of bodies, from a toy to a bass, m: what lies outside is a slip of units and would only cost time. */
const shortestEdge = 0.1;
const longestEdge = 10;

/**
 * Builds the plan. `spacing` is the distance between points of the polygons (m, finer in tight bends); curves, areas and
 * volumes do not depend on it beyond 1e-5 relative (1e-4 for a hole that breaks the edge).
 * Fails: 'outline-crosses-itself', 'hole-crosses-itself', 'hole-outside', 'hole-larger-than-top', 'hole-cuts-top-apart',
 * 'depth', 'dome-too-tight', 'side-too-thick', and the reasons of `outlineCurve`, `withCutaway` and `holeCurve`.
 */
export function bodyPlan(spec: BodySpec, spacing = 0.006): Outcome<BodyPlan> {
  const fault = depthFault(spec);
  if (fault !== null) return failed("depth", fault);
  const full = outlineCurve(spec.outline);
  if (!full.ok) return full;
  const around = curveLength(full.value.curve);
  if (!(around < longestEdge && around > shortestEdge)) {
    return failed(
      "dimensions",
      `the outline is ${around.toPrecision(3)} m round; a body has ${shortestEdge} to ${longestEdge} m`,
    );
  }
  const crossed = crossingFault(full.value.curve, spacing);
  if (crossed !== null) return failed("outline-crosses-itself", crossed);
  const cut = withCutaway(full.value, spec.cutaway);
  if (!cut.ok) return cut;
  const outline = cut.value.curve;
  const crossedCut = crossingFault(outline, spacing);
  if (crossedCut !== null) return failed("outline-crosses-itself", crossedCut);
  const hole = holeCurve(spec.hole);
  if (!hole.ok) return hole;
  const holeAround = curveLength(hole.value);
  if (!(holeAround < 5 * around)) {
    return failed(
      "hole-larger-than-top",
      `the hole is ${holeAround.toPrecision(3)} m round, the body ${around.toPrecision(3)} m`,
    );
  }
  const crossedHole = crossingFault(hole.value, spacing / 2);
  if (crossedHole !== null) return failed("hole-crosses-itself", crossedHole);
  const holeArea = curveArea(hole.value);
  if (!(Math.abs(holeArea) > leastHole))
    return failed("hole-size", `the hole has an area of ${holeArea.toExponential(1)} m2`);
  for (const [name, dome] of [
    ["top", spec.topDome],
    ["back", spec.backDome],
  ] as const) {
    if (dome !== null && !domeCovers(dome, outline)) {
      return failed("dome-too-tight", `a dome of radius ${dome.radius} m does not reach across the ${name}`);
    }
  }

  const warnings: Warning[] = [...full.warnings, ...cut.warnings];
  const fine = topAsCut(outline, hole.value, spacing / 4, spacing / 8);
  if (!fine.ok) return fine;
  const drawn = topAsCut(outline, hole.value, spacing, spacing / 2);
  if (!drawn.ok) return drawn;
  warnings.push(...drawn.warnings);

  const cavity: CavityDepth = { length: full.value.length, ...spec };
  const thickness = spec.sideThickness ?? 0;
  const inside = insideOf(outline, thickness, spacing / 4);
  if (inside === null) {
    return failed(
      "side-too-thick",
      `the outline somewhere turns tighter than its side is thick (${thickness} m)`,
    );
  }
  const shallow = shallowest(inside, cavity);
  if (!(shallow > 0)) return failed("depth", `top and back meet inside the box (depth ${shallow} m)`);
  // The curves' own areas make up for the chords of the polygons; a strip t wide inside has t P - pi t^2 (Steiner).
  const planArea = curveArea(outline);
  const insideArea = planArea - thickness * curveLength(outline) + Math.PI * thickness ** 2;
  const grossVolume = cavityVolume(inside, cavity) * (insideArea / polygonArea(inside));
  const netVolume = grossVolume - (spec.solidVolume ?? 0);
  if (!(netVolume > 0)) return failed("depth", `the braces and blocks fill the box (${netVolume} m3 left)`);

  const meets = drawn.value.lostEdge.length > 0;
  const fineTop = trueArea(fine.value.region, null);
  const finePlan = polygonArea(fine.value.outlinePolygon);
  const top = meets ? fineTop * (planArea / finePlan) : planArea - holeArea;
  const plan: BodyPlan = {
    hand: "right",
    outline,
    outlinePolygon: drawn.value.outlinePolygon,
    fullOutline: full.value.curve,
    cutaway: cut.value.report,
    length: full.value.length,
    hole: hole.value,
    holePolygon: drawn.value.holeInside,
    holeMeetsEdge: meets,
    topRegion: drawn.value.region,
    backRegion: { outline: drawn.value.outlinePolygon, holes: [] },
    openEdge: drawn.value.lostEdge,
    areas: {
      plan: planArea,
      top,
      topTrue: trueArea(fine.value.region, spec.topDome) * (top / fineTop),
      back: planArea,
      backTrue:
        trueArea({ outline: fine.value.outlinePolygon, holes: [] }, spec.backDome) * (planArea / finePlan),
      hole: holeArea,
      holeInside: planArea - top,
    },
    grossVolume,
    netVolume,
  };
  return done(spec.hand === "left" ? mirrorPlan(plan) : plan, warnings);
}

interface CutTop {
  readonly outlinePolygon: Polygon;
  readonly region: PlateRegion;
  readonly holeInside: Polygon;
  readonly lostEdge: readonly Polygon[];
}

/** The top with its hole taken off, at the given distances between points of outline and hole. */
function topAsCut(
  outline: PlaneCurve,
  hole: PlaneCurve,
  spacing: number,
  holeSpacing: number,
): Outcome<CutTop> {
  const outlinePolygon = sampleCurve(outline, spacing);
  const holePolygon = sampleCurve(hole, holeSpacing);
  const cut = polygonDifference(outlinePolygon, holePolygon, leastLand, Math.max(leastLand, holeSpacing / 2));
  const bySize = (a: Polygon, b: Polygon): number => polygonArea(b) - polygonArea(a);
  if (cut.shared.length === 0) {
    const [x0, y0, x1, y1] = polygonBounds(holePolygon);
    return failed(
      "hole-outside",
      `the hole (x ${x0.toFixed(4)} to ${x1.toFixed(4)}, y ${y0.toFixed(4)} to ${y1.toFixed(4)} m) lies wholly outside the body`,
    );
  }
  const pieces = [...cut.pieces].sort(bySize);
  if (pieces.length === 0 || polygonArea(pieces[0]) < 0.1 * polygonArea(outlinePolygon)) {
    return failed("hole-larger-than-top", "the hole leaves less than a tenth of the top");
  }
  if (pieces.length > 1 && polygonArea(pieces[1]) > leastPiece) {
    return failed(
      "hole-cuts-top-apart",
      `the hole cuts the top into pieces of ${pieces.map((p) => polygonArea(p).toFixed(5)).join(" and ")} m2`,
    );
  }
  const warnings: Warning[] = pieces.slice(1).map((piece) => ({
    code: "offcut",
    detail: `the hole leaves a loose sliver of ${polygonArea(piece).toExponential(1)} m2 at the edge; it is left out`,
  }));
  return done(
    {
      outlinePolygon,
      region: { outline: pieces[0], holes: cut.hole === null ? [] : [cut.hole] },
      holeInside: [...cut.shared].sort(bySize)[0],
      lostEdge: cut.lostEdge,
    },
    warnings,
  );
}

/** Where a closed curve crosses itself, in words; null if nowhere. */
function crossingFault(curve: PlaneCurve, spacing: number): string | null {
  const places = selfCrossings(sampleCurve(curve, spacing));
  if (places.length === 0) return null;
  const told = places.slice(0, 4).map((place: Point) => `(${place[0].toFixed(4)}, ${place[1].toFixed(4)}) m`);
  return `it crosses itself at ${told.join(", ")}${places.length > 4 ? ` and ${places.length - 4} more places` : ""}`;
}

function domeCovers(dome: DomeSpec, outline: PlaneCurve): boolean {
  const points = outline.points;
  let farthest = 0;
  for (let i = 0; i < points.length; i += 2) {
    farthest = Math.max(farthest, Math.hypot(points[i] - dome.apex[0], points[i + 1] - dome.apex[1]));
  }
  return dome.radius > 1.2 * farthest;
}

/** Least depth between the inner faces along the edge, m. */
function shallowest(inside: Polygon, cavity: CavityDepth): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < inside.length; i += 2)
    least = Math.min(least, cavityDepth(cavity, inside[i], inside[i + 1]));
  return least;
}

function depthFault(spec: BodySpec): string | null {
  const positive = {
    depthAtTail: spec.depthAtTail,
    depthAtNeck: spec.depthAtNeck,
    topThickness: spec.topThickness,
    backThickness: spec.backThickness,
  };
  for (const [name, value] of Object.entries(positive)) {
    if (!(value > 0 && Number.isFinite(value))) return `${name} is ${value} m, must be above 0`;
  }
  if (!((spec.sideThickness ?? 0) >= 0) || !((spec.solidVolume ?? 0) >= 0))
    return "side thickness and solid volume must not be negative";
  return null;
}
