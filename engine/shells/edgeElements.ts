import { distanceToPolyline, type Polygon, pointInPolygon, polygonPerimeter } from "#engine/geometry";
import { edgeBeam, emptyEdgeBeam } from "./elements/edgeBeam.ts";
import type { Panel } from "./panel.ts";
import { edgeFrame } from "./ribElements.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Which of the six motions of each node the edge holds: 1 held, 0 free; 6 by node. */
export function heldMotions(panel: Panel, mesh: ShellMesh): Uint8Array {
  const held = new Uint8Array(2 * mesh.nodes.length);
  const { edge } = panel;
  if (edge.kind === "free") return held;
  const motions = edge.kind === "hinged" ? [0, 1, 2] : edge.kind === "clamped" ? [0, 1, 2, 3, 4, 5] : [2];
  for (const [i, j] of liningEdges(panel, mesh))
    for (const m of motions) held[6 * i + m] = held[6 * j + m] = 1;
  if (edge.kind === "elastic") {
    for (const node of nodesInside(edge.held, mesh)) held.fill(1, 6 * node, 6 * node + 6);
  }
  return held;
}

/** Nodes in or on plan polygons; the mesh follows their edges, so a hair of room is enough. */
function nodesInside(polygons: readonly Polygon[], mesh: ShellMesh): number[] {
  const p = mesh.plan.nodes;
  const inside: number[] = [];
  const hairs = polygons.map((polygon) => 1e-6 * polygonPerimeter(polygon));
  for (let node = 0; node < p.length / 2; node++) {
    const [x, y] = [p[2 * node], p[2 * node + 1]];
    const meets = (polygon: Polygon, k: number): boolean =>
      pointInPolygon(polygon, x, y) || distanceToPolyline(polygon, x, y, true) < hairs[k];
    if (polygons.some(meets)) inside.push(node);
  }
  return inside;
}

/** Mesh edges of the outer edge where the lining holds the plate. */
function liningEdges(panel: Panel, mesh: ShellMesh): (readonly [number, number])[] {
  const loop = mesh.boundary[0];
  const open = panel.edge.kind === "elastic" ? panel.edge.open : [];
  const p = mesh.plan.nodes;
  const edges: (readonly [number, number])[] = [];
  for (let k = 0; k < loop.length; k++) {
    const i = loop[k];
    const j = loop[(k + 1) % loop.length];
    const x = (p[2 * i] + p[2 * j]) / 2;
    const y = (p[2 * i + 1] + p[2 * j + 1]) / 2;
    const reach = 0.25 * Math.hypot(p[2 * i] - p[2 * j], p[2 * i + 1] - p[2 * j + 1]);
    if (!open.some((chain) => distanceToPolyline(chain, x, y) < reach)) edges.push([i, j]);
  }
  return edges;
}

/** Matrices of an edge element: 12 x 12 over ux uy uz rx ry rz of its two nodes. */
export interface EdgeElement {
  readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
}

/** Calls `take` with the springs and the ring of an elastic edge, edge by edge (one memory, filled anew each time). */
export function edgeElements(
  panel: Panel,
  mesh: ShellMesh,
  take: (i: number, j: number, e: EdgeElement) => void,
): void {
  const { edge } = panel;
  if (edge.kind !== "elastic") return;
  const e = emptyEdgeBeam();
  const ring = edge.ring;
  const section = {
    EA: ring?.EA ?? 0,
    EI: ring?.EI ?? 0,
    GAs: 0,
    GJ: ring?.GJ ?? 0,
    glue: ring?.offset ?? 0,
    centroid: 0,
    massPerLength: ring?.massPerLength ?? 0,
    inertiaBending: 0,
    inertiaTwist: 0,
    lossE: 0,
    lossG: 0,
  };
  for (const [i, j] of liningEdges(panel, mesh)) {
    const { length, tangent: t, normal: n } = edgeFrame(mesh, panel.dome, i, j);
    edgeBeam(length, t, n, () => section, true, e);
    const m = [t[1] * n[2] - t[2] * n[1], t[2] * n[0] - t[0] * n[2], t[0] * n[1] - t[1] * n[0]];
    addSpring(e.stiffness, length * edge.rotation, t, 3);
    addSpring(e.stiffness, length * edge.normal, m, 0);
    addSpring(e.stiffness, length * edge.tangential, t, 0);
    take(i, j, { stiffness: plateBlock(e.stiffness), loss: plateBlock(e.loss), mass: plateBlock(e.mass) });
  }
}

/** A tied beam's 14 x 14 matrix without the two turns it does not use. */
function plateBlock(a: Float64Array): Float64Array {
  return Float64Array.from({ length: 144 }, (_, k) => a[14 * Math.floor(k / 12) + (k % 12)]);
}

/** Adds an even line spring of total stiffness k along `direction` of the motion triple starting at `first`. */
function addSpring(a: Float64Array, k: number, direction: readonly number[], first: number): void {
  for (let p = 0; p < 2; p++) {
    for (let q = 0; q < 2; q++) {
      const share = (k / 6) * (p === q ? 2 : 1);
      for (let r = 0; r < 3; r++) {
        for (let c = 0; c < 3; c++)
          a[14 * (6 * p + first + r) + 6 * q + first + c] += share * direction[r] * direction[c];
      }
    }
  }
}
