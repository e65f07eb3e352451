import { planLocator } from "#engine/meshing";
import {
  addElements,
  choleskyDense,
  choleskySolve,
  done,
  failed,
  type Outcome,
  type SparseSymmetric,
  symmetricPattern,
} from "#engine/numerics";
import type { MotionMap } from "../body/bodyModel.ts";
import { seatedRib } from "../body/plateSeat.ts";
import { lineFrame } from "../edgeFrame.ts";
import { ribStrips, underStrip } from "../elementLaminates.ts";
import { edgeBeam, emptyEdgeBeam } from "../elements/edgeBeam.ts";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import type { PanelRib } from "../panel.ts";
import { ribSection } from "../ribSection.ts";
import { thicknessAt } from "../thicknessAt.ts";
import { type FacetPlace, type FacetPoint, facetPoint } from "./facetPoint.ts";
import type { StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";

/** Farther than this beyond the mesh's edge a rib has left its plate, m: chords of a curved edge cut off less. */
const edgeReach = 2e-3;

/**
 * What a rib adds to its plate where it is laid along a line that the mesh knows nothing of: its beam, whose ends are points of
 * the plate's triangles, and its footprint on the laminates. Along its own line that is the rib itself but for the inertia of its turns
 * against the plate, which follow at rest; beside it what a triangle is too stiff for is made up (`lineGives`). The rows are the ground's.
 * The plate's edge cuts it. Fails with 'rib-outside' where the line leaves the ground.
 */
export function layRib(
  ground: RibGround,
  rib: PanelRib,
): Outcome<readonly [beam: StructureChange, footprint: StructureChange]> {
  const [seated] = rib === ground.rib ? [rib] : seatedRib(rib, ground.panel.outline, ground.panel.holes);
  if (seated === undefined) return failed("rib-outside", "the rib leaves its plate");
  const beam = laidBeam(ground, seated);
  return beam.ok ? done([beam.value, footprintChange(ground, seated)]) : beam;
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

function laidBeam(ground: RibGround, rib: PanelRib): Outcome<StructureChange> {
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
  const following = followers(stiffness, count);
  if (!following.ok) return following;
  const [k, l, m] = matrices.map((a) => followed(a, following.value, count, a === stiffness));
  return done({ motions: hungOn(ground.motions, stations), stiffness: k, lossStiffness: l, mass: m });
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
  const place = (i: number): readonly (readonly [number, number])[] => {
    if (i < 14) return [[i, 1]];
    const way = Math.floor((i - 14) / 2);
    const at = 6 * (i % 2) + (way === 2 ? 3 : 0);
    return (way === 1 ? normal : tangent).map((v, q) => [at + q, v] as const);
  };
  for (let i = 0; i < wide; i++) {
    for (let j = 0; j < wide; j++) {
      let sum = 0;
      for (const [r, f] of place(i)) for (const [c, g] of place(j)) sum += f * g * from[14 * r + c];
      out[wide * i + j] = sum;
    }
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

/** followers x 6 count: what follows, at rest under unit motions of the stations, -K_ff^-1 K_fs; zero where they are held. */
function followers({ colStart, rowIndex, values }: SparseSymmetric, count: number): Outcome<Float64Array> {
  const wide = 6 * count;
  const size = followersEach * count;
  const own = new Float64Array(size * size);
  const right = new Float64Array(wide * size);
  for (let j = 0; j < wide + size; j++) {
    for (let p = colStart[j]; p < colStart[j + 1]; p++) {
      const i = rowIndex[p] - wide;
      if (i < 0) continue;
      if (j < wide) right[j * size + i] = -values[p];
      else own[i * size + j - wide] = own[(j - wide) * size + i] = values[p];
    }
  }
  for (let i = 0; i < size; i++) if (own[i * size + i] === 0) own[i * size + i] = 1;
  const factor = choleskyDense(own, size);
  if (!factor.ok) return factor;
  const x = choleskySolve(factor.value, size, right, wide);
  const out = new Float64Array(size * wide);
  for (let j = 0; j < wide; j++) for (let i = 0; i < size; i++) out[i * wide + j] = x[j * size + i];
  return done(out);
}

/**
 * A matrix of stations and followers on the stations alone, the followers at rest: T' A T, full. `balanced`: they are at rest in this
 * matrix itself, and are under no force.
 */
function followed(
  a: SparseSymmetric,
  following: Float64Array,
  count: number,
  balanced: boolean,
): SparseSymmetric {
  const wide = 6 * count;
  const size = followersEach * count;
  // A T, row by row: stations, then followers
  const lines = wide + (balanced ? 0 : size);
  const half = new Float64Array(lines * wide);
  const spread = (i: number, j: number, value: number): void => {
    if (i >= lines) return;
    const to = half.subarray(i * wide, (i + 1) * wide);
    if (j < wide) to[j] += value;
    else {
      const line = following.subarray((j - wide) * wide, (j - wide + 1) * wide);
      for (let k = 0; k < wide; k++) to[k] += value * line[k];
    }
  };
  for (let j = 0; j < wide + size; j++) {
    for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
      if (a.values[p] === 0) continue;
      spread(a.rowIndex[p], j, a.values[p]);
      if (a.rowIndex[p] !== j) spread(j, a.rowIndex[p], a.values[p]);
    }
  }
  for (let f = 0; f < lines - wide; f++) {
    const line = half.subarray((wide + f) * wide, (wide + f + 1) * wide);
    for (let i = 0; i < wide; i++) {
      const t = following[f * wide + i];
      if (t === 0) continue;
      const to = half.subarray(i * wide, i * wide + i + 1);
      for (let k = 0; k <= i; k++) to[k] += t * line[k];
    }
  }
  const colStart = new Uint32Array(wide + 1);
  const rowIndex = new Uint32Array((wide * (wide + 1)) / 2);
  const values = new Float64Array(rowIndex.length);
  for (let j = 0, p = 0; j < wide; j++) {
    for (let i = j; i < wide; i++, p++) {
      rowIndex[p] = i;
      values[p] = half[i * wide + j];
    }
    colStart[j + 1] = p;
  }
  return { n: wide, colStart, rowIndex, values };
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

/** What the rib's footprint adds to the triangles under it. */
function footprintChange({ mesh, laminates, motions, panel }: RibGround, rib: PanelRib): StructureChange {
  const strips = ribStrips(rib);
  const p = mesh.plan.nodes;
  const flat = new Float64Array(6);
  const faces: { readonly e: number; readonly laminate: (typeof laminates)[number] }[] = [];
  laminates.forEach((own, e) => {
    for (let c = 0; c < 3; c++) {
      flat[2 * c] = p[2 * mesh.triangles[3 * e + c]];
      flat[2 * c + 1] = p[2 * mesh.triangles[3 * e + c] + 1];
    }
    const area = ((flat[2] - flat[0]) * (flat[5] - flat[1]) - (flat[4] - flat[0]) * (flat[3] - flat[1])) / 2;
    const x = (flat[0] + flat[2] + flat[4]) / 3;
    const y = (flat[1] + flat[3] + flat[5]) / 3;
    const thickness = thicknessAt(panel.thickness, x, y);
    const laminate = strips.reduce((l, strip) => underStrip(l, strip, flat, area, thickness), own);
    if (laminate !== own) faces.push({ e, laminate });
  });
  const local = new Int32Array(mesh.nodes.length / 3).fill(-1);
  const nodes: number[] = [];
  const lists = faces.map(({ e }) =>
    Int32Array.from({ length: 18 }, (_, q) => {
      const node = mesh.triangles[3 * e + Math.floor(q / 6)];
      if (local[node] < 0) local[node] = nodes.push(node) - 1;
      return 6 * local[node] + (q % 6);
    }),
  );
  const stiffness = symmetricPattern(6 * nodes.length, lists);
  const like = (): SparseSymmetric => ({ ...stiffness, values: new Float64Array(stiffness.values.length) });
  const lossStiffness = like();
  const [bare, laid] = [emptyTriangle(), emptyTriangle()];
  const corners = new Float64Array(9);
  faces.forEach(({ e, laminate }, f) => {
    for (let c = 0; c < 3; c++) {
      const node = mesh.triangles[3 * e + c];
      for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * node + k];
    }
    shellTriangle(corners, laminates[e], bare);
    shellTriangle(corners, laminate, laid);
    for (const [a, b] of [
      [laid.stiffness, bare.stiffness],
      [laid.loss, bare.loss],
    ])
      for (let i = 0; i < a.length; i++) a[i] -= b[i];
    addElements([stiffness, lossStiffness], lists[f], [laid.stiffness, laid.loss]);
  });
  const start = [0];
  const row: number[] = [];
  const weight: number[] = [];
  for (const node of nodes) {
    for (let k = 6 * node; k < 6 * node + 6; k++) {
      for (let q = motions.start[k]; q < motions.start[k + 1]; q++) {
        row.push(motions.row[q]);
        weight.push(motions.weight[q]);
      }
      start.push(row.length);
    }
  }
  return {
    motions: {
      start: Uint32Array.from(start),
      row: Uint32Array.from(row),
      weight: Float64Array.from(weight),
    },
    stiffness,
    lossStiffness,
    mass: like(),
  };
}
