import { planLocator } from "#engine/meshing";
import {
  addElements,
  done,
  failed,
  type Outcome,
  type SparseSymmetric,
  symmetricPattern,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { lineFrame } from "../edgeFrame.ts";
import { edgeBeam, emptyEdgeBeam } from "../elements/edgeBeam.ts";
import type { PanelRib } from "../panel.ts";
import { ribSection } from "../ribSection.ts";
import { thicknessAt } from "../thicknessAt.ts";
import { beamFollowers, followed } from "./beamFollowers.ts";
import { type FacetPlace, type FacetPoint, facetPoint } from "./facetPoint.ts";
import type { RibGround } from "./ribGround.ts";

/** Farther than this beyond the mesh's edge a rib has left its plate, m: chords of a curved edge cut off less. */
const edgeReach = 2e-3;

/** Matrices of a beam whose stations (six motions each) are points of the ground, and are followed by motions of its own. */
export interface LaidBeam {
  /** Of the stations on the ground's rows. */
  readonly motions: MotionMap;
  /** On the stations alone, the followers at rest; full. */
  readonly stiffness: SparseSymmetric;
  /** followers x motions of the stations: what follows unit motions at rest. */
  readonly following: Float64Array;
  /** On the stations, then the followers; of one pattern. */
  readonly mass: SparseSymmetric;
  readonly lossStiffness: SparseSymmetric;
}

interface Station {
  readonly plan: readonly [number, number];
  readonly point: FacetPoint;
  /** By way of giving: how far the rib moves against its triangle under a force or couple of 1 per metre; see `lineGives`. */
  readonly gives: readonly number[];
}

/** Ways of giving: along the rib, along the plate's normal, turning about the rib. */
const ways = 3;
/** What follows a station's six motions: the rib's own turn, and what it gives. */
const followersEach = 1 + ways;
const each = 6 + followersEach;

/** A rib's beam where it is laid, cut at the plate's edge. Fails with 'rib-outside'. */
export function laidBeam(ground: RibGround, rib: PanelRib): Outcome<LaidBeam> {
  const { panel, slope, mesh } = ground;
  const locate = planLocator(mesh.plan, edgeReach);
  const along = lineOf(rib);
  const stations: Station[] = [];
  for (const s of ground.stations) {
    const plan = along.at(s);
    const found = locate(plan[0], plan[1]);
    if (found === null)
      return failed(
        "rib-outside",
        `at (${plan[0].toFixed(4)}, ${plan[1].toFixed(4)}) m the rib leaves what is held`,
      );
    stations.push({
      plan,
      point: facetPoint(mesh, found),
      gives: lineGives(ground, along.direction, plan, found),
    });
  }
  const count = stations.length;
  const first = 6 * count;
  const square = stationsAcross(ground, rib);
  // six motions by station; then its followers, of which the turn is held where another rib crosses
  const lists = stations.slice(1).map((_, k) =>
    Int32Array.from({ length: 2 * each }, (_, q) => {
      if (q < 12) return 6 * (k + Math.floor(q / 6)) + (q % 6);
      const end = k + (q % 2);
      const way = Math.floor((q - 12) / 2);
      const held = way === 0 ? square.has(end) : !(stations[end].gives[way - 1] > 0);
      return held ? -1 : first + followersEach * end + way;
    }),
  );
  const stiffness = symmetricPattern(each * count, lists);
  const like = (): SparseSymmetric => ({ ...stiffness, values: new Float64Array(stiffness.values.length) });
  const matrices = [stiffness, like(), like()] as const;
  const element = emptyEdgeBeam();
  stations.slice(1).forEach(({ plan: b, point: to, gives: last }, k) => {
    const { plan: a, point: from, gives: start } = stations[k];
    const frame = lineFrame(panel.dome, from.place, to.place, slope);
    const thickness = thicknessAt(panel.thickness, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
    const [s0, s1] = [ground.stations[k], ground.stations[k + 1]];
    const section = (xi: number) => ribSection(rib, s0 + xi * (s1 - s0), thickness);
    edgeBeam(frame.length, frame.tangent, frame.normal, section, element);
    const wide = [element.stiffness, element.loss, element.mass].map((m) => withGives(m, frame));
    for (let q = 0; q < 2 * ways; q++) {
      const c = (q % 2 === 0 ? start : last)[Math.floor(q / 2)];
      if (c > 0) wide[0][(14 + q) * (2 * each + 1)] += frame.length / (2 * c);
    }
    addElements(matrices, lists[k], wide);
  });
  const following = beamFollowers(stiffness, count, followersEach);
  if (!following.ok) return following;
  return done({
    motions: hungOn(ground.motions, stations),
    stiffness: followed(stiffness, following.value, 6 * count, true),
    following: following.value,
    mass: matrices[2],
    lossStiffness: matrices[1],
  });
}

/**
 * A rib acts on the plate along a line, beside which the plate's motions bend: under a force or couple of 1 per metre of the line, d away
 * from it, motion along it goes as -|d| / 2 G, turns about it as -|d| / 2 D, deflection as |d|^3 / 12 D (G: stiffness of the plate in shear
 * along the line, D: in bending across it). A triangle that the line crosses has no such bend in it: at the line its motion, made of
 * that of its corners, falls short of the plate's own by these amounts. On a line of the mesh nothing is missing.
 */
function lineGives(
  { mesh, laminates }: RibGround,
  [ux, uy]: readonly [number, number],
  [x, y]: readonly [number, number],
  { triangle, barycentric }: FacetPlace,
): readonly number[] {
  const p = mesh.plan.nodes;
  const d = [0, 1, 2].map((c) => {
    const node = mesh.triangles[3 * triangle + c];
    return (p[2 * node + 1] - y) * ux - (p[2 * node] - x) * uy;
  });
  const l = barycentric.map((w) => Math.max(0, w));
  const kink = l.reduce((sum, w, c) => sum + w * Math.abs(d[c]), 0);
  if (kink < onLine) return [0, 0, 0];
  let cubic = l.reduce((sum, w, c) => sum + w * Math.abs(d[c]) ** 3, 0);
  for (const [i, j] of [
    [0, 1],
    [1, 2],
    [2, 0],
  ])
    cubic += 1.5 * l[i] * l[j] * (d[i] * Math.abs(d[i]) - d[j] * Math.abs(d[j])) * (d[j] - d[i]);
  // strains by a unit slope, across the line, of the motions along x and y
  const a = laminates[triangle].stiffness;
  const rows = [
    [-uy, 0, ux],
    [0, ux, -uy],
  ];
  const form = (r: readonly number[], q: readonly number[], at: number): number =>
    r.reduce((sum, v, i) => sum + v * q.reduce((part, w, j) => part + w * a[8 * i + j + at], 0), 0);
  const [[xx, xy], [, yy]] = rows.map((r) => rows.map((q) => form(r, q, 0)));
  const softness = (ux * ux * yy - 2 * ux * uy * xy + uy * uy * xx) / (xx * yy - xy * xy);
  const across = [uy * uy, ux * ux, -2 * ux * uy];
  const bending = form(across, across, 27);
  return [(kink * softness) / 2, Math.max(0, -cubic) / (12 * bending), kink / (2 * bending)];
}

/** m: corners no farther than this from the line lie on it. */
const onLine = 1e-9;

/** A beam's matrix (14 x 14) with what its ends give as more motions: along the tangent, along the normal, about the tangent. */
function withGives(
  from: Float64Array,
  { tangent, normal }: { readonly tangent: readonly number[]; readonly normal: readonly number[] },
): Float64Array {
  const wide = 2 * each;
  const out = new Float64Array(wide * wide);
  for (let i = 0; i < 14; i++) for (let j = 0; j < 14; j++) out[wide * i + j] = from[14 * i + j];
  for (let g = 14; g < wide; g++) {
    const way = (g - 14) >> 1;
    const at = 6 * (g % 2) + (way === 2 ? 3 : 0);
    const [x, y, z] = way === 1 ? normal : tangent;
    // rows of what is there already, those of the gives before it among them
    for (let j = 0; j < g; j++)
      out[wide * g + j] = out[wide * j + g] =
        x * out[wide * at + j] + y * out[wide * (at + 1) + j] + z * out[wide * (at + 2) + j];
    const own = wide * g + at;
    out[wide * g + g] = x * out[own] + y * out[own + 1] + z * out[own + 2];
  }
  return out;
}

/** Stations (not the ends) at which another rib crosses: each keeps the other's section square to the plate. */
function stationsAcross({ crossing, stations }: RibGround, { path }: PanelRib): ReadonlySet<number> {
  const out = new Set<number>();
  const [x0, y0, x1, y1] = [path[0], path[1], path[path.length - 2], path[path.length - 1]];
  for (const other of crossing) {
    for (let i = 0; i + 3 < other.length; i += 2) {
      const [dx, dy] = [other[i + 2] - other[i], other[i + 3] - other[i + 1]];
      const det = (x1 - x0) * dy - (y1 - y0) * dx;
      const s = ((other[i] - x0) * dy - (other[i + 1] - y0) * dx) / det;
      const t = ((other[i] - x0) * (y1 - y0) - (other[i + 1] - y0) * (x1 - x0)) / det;
      if (!(t > 1e-6 && t < 1 - 1e-6)) continue;
      let nearest = 0;
      stations.forEach((v, k) => {
        if (Math.abs(v - s) < Math.abs(stations[nearest] - s)) nearest = k;
      });
      if (s >= 0 && s <= 1 && nearest > 0 && nearest < stations.length - 1) out.add(nearest);
    }
  }
  return out;
}

/** Plan place at a fraction of a path's length. */
function lineOf({ path: p }: PanelRib): {
  readonly at: (s: number) => readonly [number, number];
  /** From its first end to its last. */
  readonly direction: readonly [number, number];
} {
  const runs = [0];
  for (let i = 0; i + 3 < p.length; i += 2)
    runs.push(runs[i / 2] + Math.hypot(p[i + 2] - p[i], p[i + 3] - p[i + 1]));
  const whole = runs[runs.length - 1];
  const [dx, dy] = [p[p.length - 2] - p[0], p[p.length - 1] - p[1]];
  const straight = Math.hypot(dx, dy);
  return {
    direction: [dx / straight, dy / straight],
    at: (s) => {
      let k = 0;
      while (k + 2 < runs.length && runs[k + 1] < s * whole) k++;
      const f = (s * whole - runs[k]) / (runs[k + 1] - runs[k]);
      return [p[2 * k] + f * (p[2 * k + 2] - p[2 * k]), p[2 * k + 1] + f * (p[2 * k + 3] - p[2 * k + 1])];
    },
  };
}

/** The stations' motions told in the ground's rows. */
function hungOn(ground: MotionMap, stations: readonly Station[]): MotionMap {
  const start = [0];
  const row: number[] = [];
  const weight: number[] = [];
  for (const { point } of stations) {
    for (const motion of point.motions) {
      const sum = new Map<number, number>();
      for (const [k, w] of motion)
        for (let p = ground.start[k]; p < ground.start[k + 1]; p++)
          sum.set(ground.row[p], (sum.get(ground.row[p]) ?? 0) + w * ground.weight[p]);
      for (const [r, w] of sum) {
        row.push(r);
        weight.push(w);
      }
      start.push(row.length);
    }
  }
  return { start: Uint32Array.from(start), row: Uint32Array.from(row), weight: Float64Array.from(weight) };
}
