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
import { edgeDistance2, type LineBlocks, lineBlocks, nearestEdge } from "./lineBlocks.ts";
import { type LiningLayer, plateLining, withLining } from "./liningLayer.ts";
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
  for (let e = 0; e < laminates.length; e++) {
    putCorners(mesh, e, corners);
    shellTriangle(corners, laminates[e], element);
    if (signs !== null) {
      reflect(element.stiffness, 18, signs);
      reflect(element.loss, 18, signs);
      reflect(element.mass, 18, signs);
    }
    made.addTriangle(mesh.triangles, 3 * e, element.stiffness, element.loss, element.mass);
    addFlow(mesh.triangles, e, element.flow, signs ?? unturned, flow);
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

const unturned = [1, 1, 1, 1, 1, 1];

/** Coordinates of triangle e's corners. */
function putCorners({ nodes, triangles }: ShellMesh, e: number, corners: Float64Array): void {
  for (let c = 0; c < 3; c++) {
    const p = 3 * triangles[3 * e + c];
    corners[3 * c] = nodes[p];
    corners[3 * c + 1] = nodes[p + 1];
    corners[3 * c + 2] = nodes[p + 2];
  }
}

/** Adds triangle e's flow to that of the plate's motions. */
function addFlow(
  triangles: Uint32Array,
  e: number,
  own: Float64Array,
  signs: readonly number[],
  flow: Float64Array,
): void {
  for (let c = 0; c < 3; c++) {
    const p = 6 * triangles[3 * e + c];
    for (let k = 0; k < 6; k++) flow[p + k] += signs[k] * own[6 * c + k];
  }
}

/** Changes the signs of an element's rows and columns: six motions by node, what follows the nodes stays. */
export function reflect(a: Float64Array, size: number, signs: readonly number[]): void {
  const plate = size - (size % 6);
  for (let i = 0; i < size; i++) {
    const own = i < plate ? signs[i % 6] : 1;
    for (let j = 0; j < plate; j += 6) {
      for (let k = 0; k < 6; k++) a[size * i + j + k] *= own * signs[k];
    }
    for (let j = plate; j < size; j++) a[size * i + j] *= own;
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
  const t = mesh.triangles;
  const blocks = lineBlocks(line);
  const distance = nodeDistances(blocks, mesh, strip + longestEdge(mesh));
  const open = spec.sides.open;
  // linings stop at the blocks that reach the plate
  const boxes = spec.blocks.filter(({ centre, size }) =>
    which === "top"
      ? centre[2] + size[2] / 2 > -0.1 * size[2]
      : centre[2] - size[2] / 2 < 0.1 * size[2] - depthMid(spec, centre[0]),
  );
  let liningMass = 0;
  const layers = new Map<number, { readonly thickness: number; readonly layer: LiningLayer }>();
  for (let e = 0; e < laminates.length; e++) {
    const [a, b, c] = [t[3 * e], t[3 * e + 1], t[3 * e + 2]];
    const share = shareBelow(distance[a], distance[b], distance[c], strip);
    if (share < 1e-6) continue;
    const x = (p[2 * a] + p[2 * b] + p[2 * c]) / 3;
    const y = (p[2 * a + 1] + p[2 * b + 1] + p[2 * c + 1]) / 3;
    if (boxes.some((box) => overBlock(box, x, y))) continue;
    if (which === "top" && open.length > 0) {
      const seat = nearestOnPolyline(line, x, y, true).point;
      if (open.some((chain) => distanceToPolyline(chain, seat[0], seat[1]) < strip / 2)) continue;
    }
    const edge = nearestEdge(blocks, x, y, Number.POSITIVE_INFINITY);
    const thickness = thicknessAt(panel.thickness, x, y);
    let known = layers.get(edge);
    if (known?.thickness !== thickness) {
      known = { thickness, layer: plateLining(lining, strip, thickness, edgeAngle(line, edge)) };
      layers.set(edge, known);
    }
    laminates[e] = withLining(laminates[e], known.layer, share);
    liningMass += share * facetArea(mesh, e) * known.layer.laminate.inertia[0];
  }
  return { laminates, liningMass };
}

/** Direction of a closed line's edge, rad from +x. */
function edgeAngle(line: Polygon, edge: number): number {
  const next = 2 * edge + 2 < line.length ? 2 * edge + 2 : 0;
  return Math.atan2(line[next + 1] - line[2 * edge + 1], line[next] - line[2 * edge]);
}

/** Distance of each node from the line in plan, `reach` where it is not less. */
function nodeDistances(blocks: LineBlocks, { plan }: ShellMesh, reach: number): Float64Array {
  const distance = new Float64Array(plan.nodes.length / 2);
  for (let k = 0; k < distance.length; k++) {
    const x = plan.nodes[2 * k];
    const y = plan.nodes[2 * k + 1];
    const edge = nearestEdge(blocks, x, y, reach);
    distance[k] = edge < 0 ? reach : Math.sqrt(edgeDistance2(blocks.line, edge, x, y));
  }
  return distance;
}

/** Length of the longest edge in plan. */
function longestEdge({ plan: { nodes, triangles } }: ShellMesh): number {
  let most = 0;
  for (let e = 0; e < triangles.length; e++) {
    const p = 2 * triangles[e];
    const q = 2 * triangles[e % 3 === 2 ? e - 2 : e + 1];
    const dx = nodes[q] - nodes[p];
    const dy = nodes[q + 1] - nodes[p + 1];
    most = Math.max(most, dx * dx + dy * dy);
  }
  return Math.sqrt(most);
}

/** Area of triangle e on the dome. */
function facetArea({ nodes, triangles }: ShellMesh, e: number): number {
  const [a, b, c] = [3 * triangles[3 * e], 3 * triangles[3 * e + 1], 3 * triangles[3 * e + 2]];
  const ux = nodes[b] - nodes[a];
  const uy = nodes[b + 1] - nodes[a + 1];
  const uz = nodes[b + 2] - nodes[a + 2];
  const vx = nodes[c] - nodes[a];
  const vy = nodes[c + 1] - nodes[a + 1];
  const vz = nodes[c + 2] - nodes[a + 2];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

function overBlock({ centre, size }: BlockSpec, x: number, y: number): boolean {
  return Math.abs(x - centre[0]) < size[0] / 2 && Math.abs(y - centre[1]) < size[1] / 2;
}

/** Share of a triangle in which a function, linear between the corner values, stays below a limit. */
function shareBelow(a: number, b: number, c: number, limit: number): number {
  const low = Math.min(a, b, c) - limit;
  const high = Math.max(a, b, c) - limit;
  const middle = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c)) - limit;
  if (low >= 0) return 0;
  if (high <= 0) return 1;
  return middle > 0
    ? (low * low) / ((middle - low) * (high - low))
    : 1 - (high * high) / ((high - low) * (high - middle));
}
