import { pointInPolygon, polygonBounds } from "#engine/geometry";
import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import { type Arrangement, arrange, snapFraction } from "./arrangement.ts";
import { boundsMeet, chainRuns, putPointAlong } from "./chains.ts";
import { checkRegion, mostNodes } from "./checkRegion.ts";
import { distinctLegs, featureSources, type SignedLeg, sharpMeetings } from "./features.ts";
import { improve } from "./improve.ts";
import { type Leg, legCrossing, legPoint, legPoints, sameLeg } from "./leg.ts";
import type { MeshOptions, PlanMesh, PlanRegion } from "./planMesh.ts";
import { latticeSeeds } from "./seeds.ts";
import { type SizeField, type SizeSource, sizeAt, sizeField } from "./sizing.ts";
import { legPlaces } from "./spacing.ts";
import { type Draft, heldEdges, loopNodes, walk } from "./triangulate.ts";

/**
 * Triangulates a plan region with edges of about `size` metres.
 *
 * Nodes: every corner of a loop or line (turn above 25 degrees, or both edges beside it 0.7 sizes or longer), every
 * end and crossing of lines. What lies nearer than 0.1 size joins: lines are led to the corner, loop or crossing; loops
 * never move. Loops given finer than the size are followed by chords that sag at most 0.03 sizes, so the area differs
 * by less than 0.03 x size x (length of the loops that were coarsened); loops with edges of about the size or longer
 * keep their area exactly. Line ends that stick out of the region by less than 0.25 size are cut off there.
 * The triangles shrink in gaps, at tight curves and at sharp meetings of lines. Same input, same mesh.
 *
 * Angles: above 20 degrees in ordinary plans; only where lines or loops meet at less than that is the angle theirs.
 *
 * Fails with 'degenerate-region', 'outline-crosses-itself', 'hole-crosses-itself', 'hole-outside', 'holes-meet', 'bad-size',
 * 'size-too-small' (above 200,000 nodes), 'too-many-lines', 'line-outside', 'line-too-short', 'lines-tangled', 'no-triangulation'.
 */
export function meshPlan(region: PlanRegion, o: MeshOptions): Outcome<PlanMesh> {
  const checked = checkRegion(region, o);
  if (!checked.ok) return checked;
  const { loops, lines } = checked.value;
  const grading = o.grading ?? 0.25;
  const wished = sizeField(wishSources(o), o.size, grading);

  const arranged = arrange(loops, lines, wished);
  if (!arranged.ok) return arranged;
  const trimmed = trimOutside(arranged.value, loops, wished);
  if (!trimmed.ok) return trimmed;
  const snap = snapFraction * o.size;
  const { legs, ...curves } = distinctLegs(trimmed.value, (one, two) => sameLeg(one, two, 2.5 * snap));
  const ground = { field: wished, inside: (x: number, y: number) => insideLoops(loops, x, y) };
  const first = sharpMeetings(legs, ground);
  const field = sizeField([...wishSources(o), ...featureSources(legs, first, ground)], o.size, grading);

  const laid = layNodes(trimmed.value, legs, curves, first, field);
  const loopChains = laid.loops.map((loop) => loopNodes(laid, loop));
  const bounds = polygonBounds(loops[0]);
  const seeds = latticeSeeds(laid.xy, loopChains, heldEdges(laid.chains), field, bounds);
  if (laid.held.length + seeds.length / 2 > mostNodes) {
    return failed("size-too-small", `the sizes ask for more than ${mostNodes} nodes`);
  }
  const made = improve(withSeeds(laid, seeds), field);
  if (!made.ok) return made;
  return done(
    finish(made.value.draft, made.value.net.triangles),
    trimmed.warnings satisfies readonly Warning[],
  );
}

function withSeeds(draft: Draft, seeds: readonly number[]): Draft {
  const xy = new Float64Array(draft.xy.length + seeds.length);
  xy.set(draft.xy);
  xy.set(seeds, draft.xy.length);
  const held = new Uint8Array(xy.length / 2);
  held.set(draft.held);
  return { ...draft, xy, held };
}

/** Sources of the caller's own wishes, close enough along each chain to act as one. */
function wishSources(o: MeshOptions): SizeSource[] {
  const out: SizeSource[] = [];
  const place = new Float64Array(2);
  for (const near of o.sizeNear ?? []) {
    const chain = near.points.length === 2 ? Float64Array.of(...near.points, ...near.points) : near.points;
    const runs = chainRuns(chain);
    const length = runs[runs.length - 1];
    const steps = Math.ceil(length / Math.max(0.5 * near.size, 0.25 * near.reach));
    for (let i = 0; i <= steps; i++) {
      putPointAlong(chain, runs, steps === 0 ? 0 : (length * i) / steps, place, 0);
      out.push({ x: place[0], y: place[1], size: near.size, reach: near.reach });
    }
  }
  return out;
}

/** Whether (x, y) is inside the first loop and outside the others. */
function insideLoops(loops: readonly Float64Array[], x: number, y: number): boolean {
  return loops.every((loop, k) => pointInPolygon(loop, x, y) === (k === 0));
}

/** Cuts off short line ends outside the region; a line that leaves it otherwise is refused. */
function trimOutside(a: Arrangement, loops: readonly Float64Array[], field: SizeField): Outcome<Arrangement> {
  const onLoop = (one: Leg) =>
    a.loops.some((loop) =>
      loop.some((two) => sameLeg(one, two, 2.5 * snapFraction * sizeAt(field, one.chain[0], one.chain[1]))),
    );
  const lines: Leg[][] = [];
  const warnings: Warning[] = [];
  for (const [k, line] of a.lines.entries()) {
    const out = line.map((one) => {
      const [x, y] = legPoint(one, one.length / 2);
      return !insideLoops(loops, x, y) && !onLoop(one);
    });
    const kept = [...line];
    for (const end of [0, -1] as const) {
      const one = kept.at(end);
      if (one === undefined || !out[line.indexOf(one)]) continue;
      const { length } = one;
      if (length > 0.25 * sizeAt(field, one.chain[0], one.chain[1])) continue;
      kept.splice(end, 1);
      out[line.indexOf(one)] = false;
      warnings.push({
        code: "line-trimmed",
        detail: `line ${k + 1} stuck out by ${length.toPrecision(2)} m and was cut there`,
      });
    }
    const beyond = kept.find((one) => out[line.indexOf(one)]);
    if (beyond !== undefined || kept.length === 0) {
      const [x, y] = legPoint(beyond ?? line[0], (beyond ?? line[0]).length / 2);
      return failed(
        "line-outside",
        `line ${k + 1} leaves the region: (${x.toPrecision(4)}, ${y.toPrecision(4)}) m is outside the outline or in a hole`,
      );
    }
    lines.push(kept);
  }
  return done({ ...a, lines }, warnings);
}

/** Nodes and chains of all legs. */
function layNodes(
  a: Arrangement,
  legs: readonly Leg[],
  curves: { loops: SignedLeg[][]; lines: SignedLeg[][] },
  first: Float64Array,
  field: SizeField,
): Draft {
  const used = new Map<number, number>();
  const xy: number[] = [];
  const nodeOf = (p: number): number => {
    let node = used.get(p);
    if (node === undefined) {
      node = xy.length / 2;
      used.set(p, node);
      xy.push(a.points[2 * p], a.points[2 * p + 1]);
    }
    return node;
  };
  const taken = new Set<string>();
  const needed = legs.map((one) => {
    const key = `${Math.min(one.a, one.b)},${Math.max(one.a, one.b)}`;
    const twin = taken.has(key);
    taken.add(key);
    return one.a === one.b ? 3 : twin ? 2 : 1;
  });
  const chains = chordsApart(legs, (k, least) =>
    legPlaces(legs[k], [first[2 * k], first[2 * k + 1]], field, Math.max(least, needed[k])),
  ).map((places, k) => {
    const one = legs[k];
    const chain = new Uint32Array(places.length);
    chain[0] = nodeOf(one.a);
    const points = legPoints(one, places);
    for (let i = 1; i + 1 < places.length; i++) {
      chain[i] = xy.length / 2;
      xy.push(points[2 * i], points[2 * i + 1]);
    }
    chain[places.length - 1] = nodeOf(one.b);
    return chain;
  });
  const held = new Uint8Array(xy.length / 2).fill(1);
  return { xy: Float64Array.from(xy), held, chains, loops: curves.loops, lines: curves.lines };
}

/** Places along all legs; curved legs get more of them where their chords would cross another leg's. */
function chordsApart(legs: readonly Leg[], placesOf: (leg: number, least: number) => number[]): number[][] {
  const places = legs.map((_, k) => placesOf(k, 1));
  const chords = legs.map((one, k) => ({ ...one, chain: legPoints(one, places[k]) }));
  for (let round = 0; round < 5; round++) {
    const again = new Set<number>();
    for (let k = 0; k < legs.length; k++) {
      for (let m = k + 1; m < legs.length; m++) {
        if (!boundsMeet(legs[k].bounds, legs[m].bounds)) continue;
        if (legs[k].chain.length === 4 && legs[m].chain.length === 4) continue;
        if (legCrossing(chords[k], chords[m]) !== null) again.add(k).add(m);
      }
    }
    if (again.size === 0) break;
    for (const k of again) {
      if (legs[k].chain.length === 4) continue;
      places[k] = placesOf(k, 2 * (places[k].length - 1));
      chords[k] = { ...legs[k], chain: legPoints(legs[k], places[k]) };
    }
  }
  return places;
}

/** Result arrays, nodes without a triangle left out. */
function finish(draft: Draft, triangles: Uint32Array): PlanMesh {
  const name = new Int32Array(draft.held.length).fill(-1);
  for (let e = 0; e < triangles.length; e++) name[triangles[e]] = 0;
  const nodes = new Float64Array(draft.xy.length);
  let count = 0;
  for (let p = 0; p < name.length; p++) {
    if (name[p] < 0) continue;
    nodes[2 * count] = draft.xy[2 * p];
    nodes[2 * count + 1] = draft.xy[2 * p + 1];
    name[p] = count++;
  }
  const renamed = (chain: Uint32Array): Uint32Array => {
    const out = new Uint32Array(chain.length);
    for (let k = 0; k < chain.length; k++) out[k] = name[chain[k]];
    return out;
  };
  return {
    nodes: nodes.slice(0, 2 * count),
    triangles: renamed(triangles),
    boundary: draft.loops.map((loop) => renamed(loopNodes(draft, loop))),
    lines: draft.lines.map((line) => renamed(walk(draft, line))),
  };
}
