import {
  nearestOnPolyline,
  type Polygon,
  type Polyline,
  pointInPolygon,
  polygonArea,
  polygonCrossings,
  polygonDifference,
} from "#engine/geometry";
import { meshPlan } from "#engine/meshing";
import { done, failed, type Outcome } from "#engine/numerics";
import type { CavitySpec } from "./cavitySpec.ts";
import { meshChords } from "./meshChords.ts";

/**
 * The plan cut into quadratic triangles, curved along the outline and along the hole's edge.
 *
 *        c
 *       / \        corners anticlockwise, then the middle of the edge after each
 *     ca   bc
 *     /     \      nodes: all corners first, then all middles
 *    a--ab---b
 */
export interface CavityPlan {
  /** x, y by node, m. */
  readonly nodes: Float64Array;
  /** 6 nodes by triangle: a, b, c, ab, bc, ca. */
  readonly triangles: Uint32Array;
  /** By triangle: 1 under the hole. */
  readonly inHole: Uint8Array;
  /** 3 nodes by edge of the outline, anticlockwise: from, middle, to. */
  readonly rim: Uint32Array;
  /** By rim edge: 1 where it lies in the hole (the side is open there). */
  readonly open: Uint8Array;
  readonly opening: PlanOpening | null;
}

/** The hole as far as it lies inside the outline. */
export interface PlanOpening {
  /** Anticlockwise. */
  readonly polygon: Polygon;
  /** The stretch of the outline that lies in the hole, along the outline; null if the hole keeps inside. */
  readonly scooped: Polyline | null;
}

/** m: what is narrower than this between hole and outline is taken for a crossing. */
const SNAP = 3e-4;
/** Size wanted at the hole's edge, in radii of a circle of the hole's area. */
const AT_HOLE = 0.45;
/** The middle of an edge is moved onto the curve it stands for, if that is nearer than this part of the edge. */
const MOST_BEND = 0.25;
/** How fast the elements grow away from what is small. */
const GRADING = 0.8;

/** Fails with 'hole-outside' if the hole does not lie inside in one piece, and with the reasons of `meshPlan`. */
export function cavityPlan(spec: Pick<CavitySpec, "outline" | "hole" | "size">): Outcome<CavityPlan> {
  const { outline, hole, size } = spec;
  const found = hole === null ? done(null) : planOpening(outline, hole.polygon);
  if (!found.ok) return found;
  const opening = found.value;
  const curves = meshCurves(outline, opening, size);
  const made = meshPlan(
    { outline: curves.outline, holes: [], lines: curves.edge === null ? [] : [curves.edge] },
    {
      size,
      sizeNear: curves.edge === null ? [] : [{ points: curves.edge, size: curves.atHole, reach: 0 }],
      grading: GRADING,
    },
  );
  if (!made.ok) return made;
  const { nodes, triangles, boundary, lines } = made.value;
  const corners = nodes.length / 2;
  const key = (p: number, q: number) => Math.min(p, q) * corners + Math.max(p, q);
  const bent = new Map<number, Polygon>();
  if (opening !== null) {
    for (let i = 0; i + 1 < lines[0].length; i++)
      bent.set(key(lines[0][i], lines[0][i + 1]), opening.polygon);
  }
  const loop = boundary[0];
  for (let i = 0; i < loop.length; i++) bent.set(key(loop[i], loop[(i + 1) % loop.length]), outline);

  const xy = Array.from(nodes);
  const middle = new Map<number, number>();
  const middleOf = (p: number, q: number): number => {
    const k = key(p, q);
    let m = middle.get(k);
    if (m === undefined) {
      m = xy.length / 2;
      middle.set(k, m);
      xy.push(...middlePlace(nodes, p, q, bent.get(k)));
    }
    return m;
  };
  const count = triangles.length / 3;
  const six = new Uint32Array(6 * count);
  const inHole = new Uint8Array(count);
  for (let t = 0; t < count; t++) {
    const [a, b, c] = triangles.subarray(3 * t, 3 * t + 3);
    six.set([a, b, c, middleOf(a, b), middleOf(b, c), middleOf(c, a)], 6 * t);
    const x = (nodes[2 * a] + nodes[2 * b] + nodes[2 * c]) / 3;
    const y = (nodes[2 * a + 1] + nodes[2 * b + 1] + nodes[2 * c + 1]) / 3;
    inHole[t] = opening !== null && pointInPolygon(opening.polygon, x, y) ? 1 : 0;
  }
  const rim = new Uint32Array(3 * loop.length);
  const open = new Uint8Array(loop.length);
  for (let i = 0; i < loop.length; i++) {
    const [p, q] = [loop[i], loop[(i + 1) % loop.length]];
    const m = middleOf(p, q);
    rim.set([p, m, q], 3 * i);
    const scooped = opening === null ? null : opening.scooped;
    const onScoop =
      scooped !== null && nearestOnPolyline(scooped, xy[2 * m], xy[2 * m + 1]).distance < SNAP / 10;
    open[i] = onScoop ? 1 : 0;
  }
  return done({ nodes: Float64Array.from(xy), triangles: six, inHole, rim, open, opening }, made.warnings);
}

function planOpening(outline: Polygon, hole: Polygon): Outcome<PlanOpening> {
  const cut = polygonDifference(outline, hole, SNAP);
  if (cut.hole !== null) return done({ polygon: cut.hole, scooped: null });
  if (cut.shared.length === 1 && cut.lostEdge.length === 1 && cut.pieces.length === 1)
    return done({ polygon: cut.shared[0], scooped: cut.lostEdge[0] });
  return failed(
    "hole-outside",
    `the hole lies inside the cavity in ${cut.shared.length} parts and leaves ${cut.pieces.length} of the top`,
  );
}

interface MeshCurves {
  readonly outline: Polygon;
  /** The hole's edge within the outline, from its start to its end (a round one ends where it starts). */
  readonly edge: Polyline | null;
  readonly atHole: number;
}

/** Chords of both curves, finer until those of the hole keep clear of those of the outline. */
function meshCurves(outline: Polygon, opening: PlanOpening | null, size: number): MeshCurves {
  if (opening === null) return { outline: meshChords(outline, size, true), edge: null, atHole: size };
  const atHole = Math.min(size, AT_HOLE * Math.sqrt(polygonArea(opening.polygon) / Math.PI));
  const { scooped } = opening;
  if (scooped !== null) {
    const e = scooped.length;
    const [start, end] = [
      [scooped[0], scooped[1]],
      [scooped[e - 2], scooped[e - 1]],
    ] as const;
    const whole = startingAt(outline, start, end);
    const rest = Float64Array.from([...end, ...whole, ...start]);
    const inner: number[] = [...end];
    const ring = opening.polygon;
    const off = (i: number) =>
      nearestOnPolyline(scooped, ring[(2 * i) % ring.length], ring[(2 * i + 1) % ring.length]).distance >
      SNAP / 10;
    const n = ring.length / 2;
    let first = 0;
    for (let i = 0; i < n; i++) if (off(i) && !off(i + n - 1)) first = i;
    for (let i = first; off(i) && i < first + n; i++)
      inner.push(ring[(2 * i) % ring.length], ring[(2 * i + 1) % ring.length]);
    inner.push(...start);
    const half = meshChords(scooped, atHole, false);
    return {
      outline: Float64Array.from([...half.slice(0, -2), ...meshChords(rest, size, false).slice(0, -2)]),
      edge: meshChords(Float64Array.from(inner), atHole, false),
      atHole,
    };
  }
  const ring = opening.polygon;
  let [outer, inner] = [meshChords(outline, size, true), meshChords(ring, atHole, true)];
  for (let finer = 0.6; finer > 0.05 && polygonCrossings(outer, inner).length > 0; finer *= 0.6) {
    outer = meshChords(outline, finer * size, true);
    inner = meshChords(ring, finer * atHole, true);
  }
  return { outline: outer, edge: Float64Array.of(...inner, inner[0], inner[1]), atHole };
}

/** Points of the outline strictly between `end` and `start`, going on from `end`. */
function startingAt(
  outline: Polygon,
  start: readonly [number, number],
  end: readonly [number, number],
): number[] {
  const n = outline.length / 2;
  const from = nearestOnPolyline(outline, end[0], end[1], true);
  const to = nearestOnPolyline(outline, start[0], start[1], true);
  const out: number[] = [];
  for (let k = 1; k <= n; k++) {
    const i = (from.edge + k) % n;
    out.push(outline[2 * i], outline[2 * i + 1]);
    if (i === to.edge) break;
  }
  return out;
}

function middlePlace(nodes: Float64Array, p: number, q: number, curve: Polygon | undefined) {
  const x = (nodes[2 * p] + nodes[2 * q]) / 2;
  const y = (nodes[2 * p + 1] + nodes[2 * q + 1]) / 2;
  if (curve === undefined) return [x, y] as const;
  const near = nearestOnPolyline(curve, x, y, true);
  const edge = Math.hypot(nodes[2 * q] - nodes[2 * p], nodes[2 * q + 1] - nodes[2 * p + 1]);
  return near.distance < MOST_BEND * edge ? near.point : ([x, y] as const);
}
