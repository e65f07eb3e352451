import { distanceToPolyline } from "#engine/geometry";
import { edgeFrame } from "./edgeFrame.ts";
import type { Panel } from "./panel.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Which of the six motions of each node the edge holds: 1 held, 0 free; 6 by node. */
export function heldMotions(panel: Panel, mesh: ShellMesh): Uint8Array {
  const held = new Uint8Array(2 * mesh.nodes.length);
  const { edge } = panel;
  if (edge.kind === "free") return held;
  const motions = edge.kind === "hinged" ? [0, 1, 2] : edge.kind === "clamped" ? [0, 1, 2, 3, 4, 5] : [2];
  for (const [i, j] of supportedEdges(panel, mesh))
    for (const m of motions) held[6 * i + m] = held[6 * j + m] = 1;
  return held;
}

/** Mesh edges of the outer edge where it is not open. */
function supportedEdges(panel: Panel, mesh: ShellMesh): (readonly [number, number])[] {
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

/**
 * Calls `take` with the springs of an elastic edge, edge by edge: 12 x 12 over ux uy uz rx ry rz of its two nodes (one
 * memory, filled anew each time).
 */
export function edgeSprings(
  panel: Panel,
  mesh: ShellMesh,
  take: (i: number, j: number, stiffness: Float64Array) => void,
): void {
  const { edge } = panel;
  if (edge.kind !== "elastic") return;
  const stiffness = new Float64Array(144);
  for (const [i, j] of supportedEdges(panel, mesh)) {
    const { length, tangent: t, normal: n } = edgeFrame(mesh, panel.dome, i, j);
    const m = [t[1] * n[2] - t[2] * n[1], t[2] * n[0] - t[0] * n[2], t[0] * n[1] - t[1] * n[0]];
    stiffness.fill(0);
    addSpring(stiffness, length * edge.rotation, t, 3);
    addSpring(stiffness, length * edge.normal, m, 0);
    addSpring(stiffness, length * edge.tangential, t, 0);
    take(i, j, stiffness);
  }
}

/** Adds an even line spring of total stiffness k along `direction` of the motion triple starting at `first`. */
function addSpring(a: Float64Array, k: number, direction: readonly number[], first: number): void {
  for (let p = 0; p < 2; p++) {
    for (let q = 0; q < 2; q++) {
      const share = (k / 6) * (p === q ? 2 : 1);
      for (let r = 0; r < 3; r++) {
        for (let c = 0; c < 3; c++)
          a[12 * (6 * p + first + r) + 6 * q + first + c] += share * direction[r] * direction[c];
      }
    }
  }
}
