/** From nodes to a good triangulation: refine, smooth, mend, and keep the best. */
import { done, failed, type Outcome } from "#engine/numerics";
import { mostNodes } from "./checkRegion.ts";
import { applyChanges, heldEdgeMap, proposeChanges } from "./refine.ts";
import type { SizeField } from "./sizing.ts";
import { liftWorst, smallestAngle, smooth } from "./smooth.ts";
import { type Draft, edgeKey, triangulate } from "./triangulate.ts";

const degree = Math.PI / 180;
/** Refinement proper works on angles below this; Delaunay refinement is known to end for 20.7 degrees. */
const sharp = 20.5 * degree;
/** Mending tries to lift every mendable angle above this. */
const wanted = 28 * degree;

interface Made {
  readonly draft: Draft;
  readonly triangles: Uint32Array;
}

/** Smallest angle of any triangle that is not fixed by two held edges. */
function worstMendable(draft: Draft, triangles: Uint32Array): number {
  const edges = heldEdgeMap(draft);
  let worst = Number.POSITIVE_INFINITY;
  for (let e = 0; e < triangles.length; e += 3) {
    const [a, b, c] = [triangles[e], triangles[e + 1], triangles[e + 2]];
    const angle = smallestAngle(draft.xy, a, b, c);
    if (angle >= worst) continue;
    const held = [edgeKey(a, b), edgeKey(b, c), edgeKey(c, a)].filter((key) => edges.has(key)).length;
    if (held >= 2 && angle < sharp && fixedApex(draft, edges, a, b, c)) continue;
    worst = angle;
  }
  return worst;
}

/** Whether the smallest angle lies between two held edges. */
function fixedApex(draft: Draft, edges: Map<number, unknown>, a: number, b: number, c: number): boolean {
  const { xy } = draft;
  const pairs = [
    [a, b],
    [b, c],
    [c, a],
  ] as const;
  const length = pairs.map(([p, q]) => Math.hypot(xy[2 * p] - xy[2 * q], xy[2 * p + 1] - xy[2 * q + 1]));
  const s = length.indexOf(Math.min(...length));
  return pairs.every(([p, q], k) => k === s || edges.has(edgeKey(p, q)));
}

/** Refined, smoothed and mended. Fails with 'no-triangulation' or 'size-too-small'. */
export function improve(start: Draft, field: SizeField): Outcome<Made> {
  try {
    return work(start, field);
  } catch (trouble) {
    // The constraining library throws plain errors on crossing or repeated edges.
    return failed("no-triangulation", `the lines could not be followed: ${(trouble as Error).message}`);
  }
}

function work(start: Draft, field: SizeField): Outcome<Made> {
  let draft = start;
  let { triangles } = triangulate(draft);
  for (let round = 0; round < 30; round++) {
    const next = applyChanges(draft, proposeChanges(draft, triangles, field, sharp, false));
    if (next === null) break;
    if (next.held.length > mostNodes)
      return failed("size-too-small", `the sizes ask for more than ${mostNodes} nodes`);
    draft = next;
    triangles = triangulate(draft).triangles;
  }
  let best = settled(draft, triangles, field, 4);
  let bestAngle = worstMendable(best.draft, best.triangles);
  let now = best;
  // Two rounds without gain: what is left is bounded by the lines themselves.
  for (let round = 0, idle = 0; round < 6 && idle < 2 && bestAngle < wanted; round++, idle++) {
    const next = applyChanges(now.draft, proposeChanges(now.draft, now.triangles, field, wanted, true));
    if (next === null) break;
    now = settled(next, triangulate(next).triangles, field, 2);
    const angle = worstMendable(now.draft, now.triangles);
    if (angle > bestAngle + 0.5 * degree) {
      idle = -1;
    }
    if (angle > bestAngle) {
      best = now;
      bestAngle = angle;
    }
  }
  return done(best);
}

/** Smoothing and flipping in turn, then the worst angles lifted. */
function settled(draft: Draft, first: Uint32Array, field: SizeField, turns: number): Made {
  const xy = Float64Array.from(draft.xy);
  const next = { ...draft, xy };
  let triangles = first;
  for (let turn = 0; turn < turns; turn++) {
    smooth(xy, draft.held, triangles, field, 3);
    triangles = triangulate(next).triangles;
  }
  liftWorst(xy, draft.held, triangles, 32 * degree, 4);
  const flipped = triangulate(next).triangles;
  return worstMendable(next, flipped) >= worstMendable(next, triangles)
    ? { draft: next, triangles: flipped }
    : { draft: next, triangles };
}
