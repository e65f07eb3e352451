/** From nodes to a good triangulation: refine, smooth, mend, and keep the best. */
import { done, failed, type Outcome } from "#engine/numerics";
import { applyChanges, type Made } from "./applyChanges.ts";
import { mostNodes } from "./checkRegion.ts";
import { nothingToDo, proposeChanges, sharpness } from "./refine.ts";
import type { SizeField } from "./sizing.ts";
import { liftWorst, smallestTangent, smooth } from "./smooth.ts";
import { after, before, restoreDelaunay, roomierNet, type TriangleNet } from "./triangleNet.ts";
import { type Draft, triangulate } from "./triangulate.ts";

const degree = Math.PI / 180;
/** Refinement proper works on angles below this; Delaunay refinement is known to end for 20.7 degrees. */
const sharp = sharpness(20.5 * degree);
/** Mending tries to lift every mendable angle above this. */
const wanted = sharpness(28 * degree);
/** Angles below this are lifted by moving their nodes. */
const liftedTo = Math.tan(32 * degree);

/** Smallest angle of any triangle that is not fixed by two held edges, as its tangent. */
function worstMendable({ draft, net }: Made): number {
  const { triangles: t } = net;
  let worst = Number.POSITIVE_INFINITY;
  for (let e = 0; e < t.length; e += 3) {
    const tangent = smallestTangent(draft.xy, t[e], t[e + 1], t[e + 2]);
    if (tangent < worst && !(tangent < sharp.bad && isApexFixed(net, draft.xy, e))) worst = tangent;
  }
  return worst;
}

/** Whether the smallest angle of the triangle of half-edge e lies between two held edges. */
function isApexFixed({ triangles: t, fixed }: TriangleNet, xy: Float64Array, e: number): boolean {
  let short = e;
  let least = Number.POSITIVE_INFINITY;
  for (let k = e; k < e + 3; k++) {
    const [p, q] = [t[k], t[after(k)]];
    const length = (xy[2 * p] - xy[2 * q]) ** 2 + (xy[2 * p + 1] - xy[2 * q + 1]) ** 2;
    if (length >= least) continue;
    least = length;
    short = k;
  }
  return fixed[after(short)] === 1 && fixed[before(short)] === 1;
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
  let now: Made = { draft: start, net: triangulate(start) };
  for (let round = 0; round < 30; round++) {
    const changes = proposeChanges(now.draft, now.net, field, sharp, false);
    if (nothingToDo(changes)) break;
    now = applyChanges(now, changes);
    if (now.draft.held.length > mostNodes)
      return failed("size-too-small", `the sizes ask for more than ${mostNodes} nodes`);
  }
  now = settled(now, field, 4);
  let best = now;
  let bestTangent = worstMendable(best);
  // Two rounds without gain: what is left is bounded by the lines themselves.
  for (let round = 0, idle = 0; round < 6 && idle < 2 && bestTangent < wanted.bad; round++, idle++) {
    const changes = proposeChanges(now.draft, now.net, field, wanted, true);
    if (nothingToDo(changes)) break;
    now = settled(applyChanges(now, changes), field, 2);
    const tangent = worstMendable(now);
    if (Math.atan(tangent) > Math.atan(bestTangent) + 0.5 * degree) idle = -1;
    if (tangent > bestTangent) {
      best = now;
      bestTangent = tangent;
    }
  }
  return done(best);
}

/** Smoothing and turning of diagonals by turns, then the worst angles lifted. The net given is used up. */
function settled({ draft: first, net }: Made, field: SizeField, turns: number): Made {
  const xy = first.xy.slice();
  const draft = { ...first, xy };
  const { held } = draft;
  for (let turn = 0; turn < turns; turn++) {
    smooth(xy, held, net.triangles, field, 3);
    restoreDelaunay(net, xy);
  }
  liftWorst(xy, held, net.triangles, liftedTo, 4);
  const kept = { draft, net: roomierNet(net, 0) };
  restoreDelaunay(net, xy);
  const flipped = { draft, net };
  return worstMendable(flipped) >= worstMendable(kept) ? flipped : kept;
}
