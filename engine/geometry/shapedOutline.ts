/** The edge of a body while it is being shaped: quick enough for the hand, without the plan that comes of it. */
import { done, type Outcome } from "#engine/numerics";
import { type BattenWeight, bentBatten } from "./batten.ts";
import type { CutawaySpec, OutlineSpec } from "./bodySpec.ts";
import { sampleCurve } from "./curve.ts";
import { withCutaway } from "./cutaway.ts";
import type { FairRest } from "./fairCurve.ts";
import type { OutlinePlan } from "./landmarks.ts";
import { centrelineEnds, outlineCurve } from "./outline.ts";
import type { CutawayReport } from "./plan.ts";
import type { Polygon } from "./polygon.ts";

/** Stated as a document states it, or held by weights. */
export type ShapedBy = OutlineSpec | { readonly kind: "weights"; readonly weights: readonly BattenWeight[] };

export interface ShapedOutline {
  /** Before the cutaway, and as cut. */
  readonly full: Polygon;
  readonly edge: Polygon;
  readonly cutaway: CutawayReport | null;
  /** Points that a document holds the edge before its cutaway by: close enough that it comes back within 0.02 mm. */
  readonly points: Polygon;
  /** For `outlineFairness`. */
  readonly plan: OutlinePlan;
  /** Where a batten came to rest; null: not held by weights. */
  readonly rest: FairRest | null;
}

/** Round a body of 1.6 m: a spline through points 12 mm apart lies within 0.02 mm of a fair curve (see the test). */
const pointSpacing = 0.012;
const drawnSpacing = 0.003;

/**
 * The edge as the maker shapes it, right-handed; `before`: where the batten lay a moment ago, which is a quicker start.
 * Fails as `outlineCurve`, `battenThrough` and `withCutaway` do.
 */
export function shapedOutline(
  by: ShapedBy,
  cutaway: CutawaySpec | null,
  before: FairRest | null = null,
): Outcome<ShapedOutline> {
  const bent = by.kind === "weights" ? bentBatten(by.weights, before) : null;
  if (bent !== null && !bent.ok) return bent;
  // the first weight is the tail
  const full = by.kind === "weights" ? centrelineEnds(bent!.value.curve) : outlineCurve(by);
  if (!full.ok) return full;
  const cut = withCutaway(full.value, cutaway);
  if (!cut.ok) return cut;
  const whole = full.value.curve;
  const drawn = sampleCurve(whole, drawnSpacing);
  return done({
    full: drawn,
    edge: cut.value.report === null ? drawn : sampleCurve(cut.value.curve, drawnSpacing),
    cutaway: cut.value.report,
    points: sampleCurve(whole, pointSpacing),
    plan: {
      hand: "right",
      outline: cut.value.curve,
      fullOutline: whole,
      cutaway: cut.value.report,
      length: full.value.length,
    },
    rest: bent === null ? null : bent.value.rest,
  });
}
