import { distanceToPolyline, nearestOnPolyline, type Polygon, polygonArea } from "#engine/geometry";
import { elementLaminates } from "../elementLaminates.ts";
import { emptyTriangle, shellTriangle } from "../elements/shellTriangle.ts";
import type { Laminate } from "../laminate.ts";
import type { Panel } from "../panel.ts";
import { ribElements } from "../ribElements.ts";
import type { ShellMesh } from "../shellMesh.ts";
import { thicknessAt } from "../thicknessAt.ts";
import type { BodyPiece } from "./bodyModel.ts";
import type { BlockSpec, BodyShellSpec } from "./bodySpec.ts";
import { plateLining, withLining } from "./liningLayer.ts";
import { backSigns } from "./motionRows.ts";
import { finishedPiece, motionsOf, pieceMatrices } from "./pieceMatrices.ts";
import { depthMid, plateSlope, type SeatedPlate } from "./plateMesh.ts";
import { liningStrip, sideLine } from "./plateSeat.ts";

/** Matrices of one plate with its ribs, patches, film, lining and the strip of wood outside the side's mid-surface. */
export function platePiece(
  spec: BodyShellSpec,
  which: "top" | "back",
  { panel, mesh }: SeatedPlate,
): BodyPiece {
  const signs = which === "back" ? backSigns : null;
  const triangles = mesh.triangles.length / 3;
  const nodeCount = mesh.nodes.length / 3;
  let motions = 6 * nodeCount;
  const turn = mesh.ribs.map((chain) => {
    const first = motions;
    motions += chain.length;
    return first;
  });
  const ribs = mesh.ribs.map((chain, r) =>
    Array.from({ length: chain.length - 1 }, (_, k) =>
      motionsOf([chain[k], chain[k + 1]], [turn[r] + k, turn[r] + k + 1]),
    ),
  );
  const made = pieceMatrices(nodeCount, motions - 6 * nodeCount, mesh.triangles, ribs.flat());
  const flow = new Float64Array(motions);
  const { laminates, liningMass } = seatedLaminates(spec, which, panel, mesh);
  const element = emptyTriangle();
  const corners = new Float64Array(9);
  for (let e = 0; e < triangles; e++) {
    const nodes = mesh.triangles.subarray(3 * e, 3 * e + 3);
    for (let c = 0; c < 3; c++) for (let k = 0; k < 3; k++) corners[3 * c + k] = mesh.nodes[3 * nodes[c] + k];
    shellTriangle(corners, laminates[e], element);
    if (signs !== null)
      for (const a of [element.stiffness, element.loss, element.mass]) reflect(a, 18, signs);
    made.addTriangle(nodes, element.stiffness, element.loss, element.mass);
    for (let c = 0; c < 3; c++) {
      for (let k = 0; k < 6; k++) flow[6 * nodes[c] + k] += (signs?.[k] ?? 1) * element.flow[6 * c + k];
    }
  }
  ribElements(
    panel,
    mesh,
    (r, k, beam) => {
      if (signs !== null) for (const a of [beam.stiffness, beam.loss, beam.mass]) reflect(a, 14, signs);
      made.add(ribs[r][k], beam.stiffness, beam.loss, beam.mass);
    },
    plateSlope(spec, which),
  );
  for (const { i, j, mass } of overhang(spec, which, panel, mesh)) {
    made.add(motionsOf([i, j]), null, null, lineMass(mass));
  }
  return finishedPiece(which, null, made, flow, liningMass);
}

/** Changes the signs of an element's rows and columns: six motions by node, what follows the nodes stays. */
function reflect(a: Float64Array, size: number, signs: readonly number[]): void {
  const plate = size - (size % 6);
  for (let i = 0; i < plate; i++) {
    if (signs[i % 6] > 0) continue;
    // each row and column of a turned motion once: where two of them meet the sign comes back
    for (let j = 0; j < size; j++) {
      a[size * i + j] = -a[size * i + j];
      a[size * j + i] = -a[size * j + i];
    }
  }
}

/** Mass of an evenly loaded edge on the translations of its two nodes, 12 x 12. */
export function lineMass(mass: number): Float64Array {
  const m = new Float64Array(144);
  for (let k = 0; k < 3; k++) {
    m[13 * k] = m[13 * (k + 6)] = mass / 3;
    m[12 * k + k + 6] = m[12 * (k + 6) + k] = mass / 6;
  }
  return m;
}

/** The strip of plate outside the side's mid-surface as mass on the edges that lie on it. */
export function overhang(
  spec: BodyShellSpec,
  which: "top" | "back",
  seated: Panel,
  mesh: ShellMesh,
): { i: number; j: number; mass: number }[] {
  const whole = spec[which];
  if (whole === null || spec.sides === null) return [];
  const edges = seatEdges(sideLine(spec.sides), mesh);
  const area = (p: Panel): number =>
    Math.abs(polygonArea(p.outline)) - p.holes.reduce((sum, hole) => sum + Math.abs(polygonArea(hole)), 0);
  const lost = Math.max(0, area(whole) - area(seated));
  const total = edges.reduce((sum, e) => sum + e.length, 0);
  const film = seated.film === null ? 0 : seated.film.thickness * seated.film.material.density;
  return edges.map(({ i, j, length }) => {
    const x = (mesh.nodes[3 * i] + mesh.nodes[3 * j]) / 2;
    const y = (mesh.nodes[3 * i + 1] + mesh.nodes[3 * j + 1]) / 2;
    const perArea = thicknessAt(seated.thickness, x, y) * seated.wood.density + film;
    return { i, j, mass: (perArea * lost * length) / total };
  });
}

/** Edges of the plate's outer loop that lie on the side's mid-line. */
function seatEdges(line: Polygon, mesh: ShellMesh): { i: number; j: number; length: number }[] {
  const loop = mesh.boundary[0];
  const p = mesh.plan.nodes;
  const edges: { i: number; j: number; length: number }[] = [];
  for (let k = 0; k < loop.length; k++) {
    const i = loop[k];
    const j = loop[(k + 1) % loop.length];
    const length = Math.hypot(p[2 * i] - p[2 * j], p[2 * i + 1] - p[2 * j + 1]);
    const off = distanceToPolyline(line, (p[2 * i] + p[2 * j]) / 2, (p[2 * i + 1] + p[2 * j + 1]) / 2, true);
    if (off < 0.1 * length) edges.push({ i, j, length });
  }
  return edges;
}

/** Laminates of the plate's triangles, the lining's strip included where the plate reaches the side. */
export function seatedLaminates(
  spec: BodyShellSpec,
  which: "top" | "back",
  panel: Panel,
  mesh: ShellMesh,
): { readonly laminates: readonly Laminate[]; readonly liningMass: number } {
  const laminates = elementLaminates(panel, mesh);
  const lining = which === "top" ? spec.sides?.topLining : spec.sides?.backLining;
  if (!spec.sides || !lining) return { laminates, liningMass: 0 };
  const strip = liningStrip(spec.sides, lining);
  const line = sideLine(spec.sides);
  const p = mesh.plan.nodes;
  const count = p.length / 2;
  const distance = new Float64Array(count);
  for (let k = 0; k < count; k++) distance[k] = distanceToPolyline(line, p[2 * k], p[2 * k + 1], true);
  const open = spec.sides.open;
  // linings stop at the blocks that reach the plate
  const blocks = spec.blocks.filter(({ centre, size }) =>
    which === "top"
      ? centre[2] + size[2] / 2 > -0.1 * size[2]
      : centre[2] - size[2] / 2 < 0.1 * size[2] - depthMid(spec, centre[0]),
  );
  let liningMass = 0;
  for (let e = 0; e < laminates.length; e++) {
    const c = mesh.triangles.subarray(3 * e, 3 * e + 3);
    const share = shareBelow(distance[c[0]], distance[c[1]], distance[c[2]], strip);
    if (share < 1e-6) continue;
    const x = (p[2 * c[0]] + p[2 * c[1]] + p[2 * c[2]]) / 3;
    const y = (p[2 * c[0] + 1] + p[2 * c[1] + 1] + p[2 * c[2] + 1]) / 3;
    if (blocks.some((box) => overBlock(box, x, y))) continue;
    const near = nearestOnPolyline(line, x, y, true);
    const seat = near.point;
    if (which === "top" && open.some((chain) => distanceToPolyline(chain, seat[0], seat[1]) < strip / 2))
      continue;
    const n = line.length / 2;
    const next = (near.edge + 1) % n;
    const angle = Math.atan2(
      line[2 * next + 1] - line[2 * near.edge + 1],
      line[2 * next] - line[2 * near.edge],
    );
    const layer = plateLining(lining, strip, thicknessAt(panel.thickness, x, y), angle);
    laminates[e] = withLining(laminates[e], layer, share);
    const u = [0, 1, 2].map((k) => mesh.nodes[3 * c[1] + k] - mesh.nodes[3 * c[0] + k]);
    const v = [0, 1, 2].map((k) => mesh.nodes[3 * c[2] + k] - mesh.nodes[3 * c[0] + k]);
    const area =
      Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
    liningMass += share * area * layer.laminate.inertia[0];
  }
  return { laminates, liningMass };
}

function overBlock({ centre, size }: BlockSpec, x: number, y: number): boolean {
  return Math.abs(x - centre[0]) < size[0] / 2 && Math.abs(y - centre[1]) < size[1] / 2;
}

/** Share of a triangle in which a function, linear between the corner values, stays below a limit. */
function shareBelow(a: number, b: number, c: number, limit: number): number {
  const [low, middle, high] = [a - limit, b - limit, c - limit].sort((p, q) => p - q);
  if (low >= 0) return 0;
  if (high <= 0) return 1;
  return middle > 0
    ? (low * low) / ((middle - low) * (high - low))
    : 1 - (high * high) / ((high - low) * (high - middle));
}
