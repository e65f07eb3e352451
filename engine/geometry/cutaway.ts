/** The outline with a cutaway: the edge that meets the maker's figures, joined with continuous curvature at both ends. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { CutawaySpec } from "./bodySpec.ts";
import { curveJet, type PlaneCurve } from "./curve.ts";
import { type CutawayEdge, cutawayEdge } from "./cutawaySolve.ts";
import { mirrorCurve, mirrorPoint } from "./mirror.ts";
import type { OutlineCurve } from "./outline.ts";
import type { CutawayPlace, CutawayReport } from "./plan.ts";
import { chainCurve } from "./spiralChain.ts";

export interface CutOutline {
  readonly curve: PlaneCurve;
  readonly report: CutawayReport | null;
}

/**
 * Replaces a stretch of the outline by the edge of a cutaway (see cutawayEdge.ts). Free are where the edge leaves the
 * outline and the neck line, the lengths and shapes of its flanks and, unless given, the scoop's curvature; they are
 * moved as little as possible from an even first guess so that the deepest place, the horn's foremost place, the corner
 * on the neck line and both joins (place, heading, curvature) are met. The one extremum of curvature at the horn is its
 * tip, of the given radius; from there to the scoop the curvature only falls.
 * Fails: 'cutaway-size', 'no-cutaway' (no such edge was found: the detail says what to change).
 */
export function withCutaway(outline: OutlineCurve, spec: CutawaySpec | null): Outcome<CutOutline> {
  if (spec === null) return done({ curve: outline.curve, report: null });
  const fault = sizeFault(spec, outline.length);
  if (fault !== null) return failed("cutaway-size", fault);
  if (spec.side === "treble") return trebleCutaway(outline, spec);
  const whole = outline.curve.knots[0] + outline.curve.knots[outline.curve.knots.length - 1];
  const mirrored = { ...outline, curve: mirrorCurve(outline.curve), neckEnd: whole - outline.neckEnd };
  const made = trebleCutaway(mirrored, spec);
  if (!made.ok) return made;
  const curve = mirrorCurve(made.value.curve);
  const report = made.value.report!;
  const length = curve.knots[0] + curve.knots[curve.knots.length - 1];
  const places = report.places.map((entry) => ({ ...entry, place: mirrorPoint(entry.place) }));
  return done({ curve, report: { ...report, places, from: length - report.to, to: length - report.from } });
}

function trebleCutaway(outline: OutlineCurve, spec: CutawaySpec): Outcome<CutOutline> {
  const edge = cutawayEdge(outline, spec);
  return edge.ok ? done(joined(outline, spec, edge.value)) : edge;
}

/** The outline with the stretch between the edge's ends replaced. */
function joined(outline: OutlineCurve, spec: CutawaySpec, edge: CutawayEdge): CutOutline {
  const chain = chainCurve(edge.curve.spirals, false);
  const { curve } = outline;
  const last = curve.knots.length - 1;
  const kept = (from: number, to: number): number[] => {
    const near = 1e-6 * (curve.knots[last] - curve.knots[0]);
    const inner = Array.from(curve.knots).filter((t) => t > from + near && t < to - near);
    return [from, ...inner, to];
  };
  const knots: number[] = [];
  const points: number[] = [];
  const tangents: number[] = [];
  const seconds: number[] = [];
  let offset = 0;
  const add = (part: PlaneCurve, parameters: readonly number[], skipFirst: boolean): void => {
    for (const [i, t] of parameters.entries()) {
      if (i === 0 && skipFirst) continue;
      const jet = curveJet(part, t);
      knots.push(offset + t - parameters[0]);
      points.push(jet[0], jet[1]);
      tangents.push(jet[2], jet[3]);
      seconds.push(jet[4], jet[5]);
    }
    offset += parameters[parameters.length - 1] - parameters[0];
  };
  add(curve, kept(curve.knots[0], edge.from), false);
  add(chain, Array.from(chain.knots), true);
  add(curve, kept(edge.to, curve.knots[last]), true);
  for (const list of [points, tangents, seconds]) {
    list[list.length - 2] = list[0];
    list[list.length - 1] = list[1];
  }
  return {
    curve: {
      closed: true,
      knots: Float64Array.from(knots),
      points: Float64Array.from(points),
      tangents: Float64Array.from(tangents),
      seconds: Float64Array.from(seconds),
    },
    report: {
      side: spec.side,
      places: placesOf(edge),
      from: edge.from,
      to: edge.from + chain.knots[chain.knots.length - 1],
    },
  };
}

function placesOf(edge: CutawayEdge): readonly CutawayPlace[] {
  const { tip, scoop, corner, spirals } = edge.curve;
  const at = (index: number): number => spirals[index].curvatures[0];
  return [
    { name: "leaves the outline", place: edge.start.point, curvature: edge.start.curvature },
    { name: "horn tip", place: tip, curvature: at(1) },
    { name: "scoop", place: scoop, curvature: at(3) },
    { name: "corner", place: corner, curvature: at(5) },
    { name: "joins the neck line", place: edge.end.point, curvature: edge.end.curvature },
  ];
}

function sizeFault(spec: CutawaySpec, length: number): string | null {
  for (const name of ["depth", "tipSetback", "tipRadius", "neckOffset", "cornerRadius"] as const) {
    if (!(spec[name] > 0 && Number.isFinite(spec[name])))
      return `the cutaway's ${name} is ${spec[name]} m, must be above 0`;
  }
  if (spec.scoopRadius !== null && !(spec.scoopRadius > 0))
    return `the cutaway's scoopRadius is ${spec.scoopRadius} m`;
  if (!(spec.depth > spec.tipSetback))
    return `the scoop (${spec.depth} m from the neck end) must lie behind the horn's tip (${spec.tipSetback} m)`;
  if (!(spec.depth < 0.5 * length)) return `a cutaway ${spec.depth} m deep in a body ${length} m long`;
  return null;
}
