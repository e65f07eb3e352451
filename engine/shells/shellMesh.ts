import { clipSegment, domeHeight, type Polygon, type Polyline } from "#engine/geometry";
import { meshPlan, type PlanMesh } from "#engine/meshing";
import { done, type Outcome } from "#engine/numerics";
import type { Panel } from "./panel.ts";
import { workingPolygon } from "./workingPolygon.ts";

/** The plate's mid-surface as flat triangles lifted from the plan mesh to the dome. */
export interface ShellMesh {
  readonly plan: PlanMesh;
  /** x, y, z by node, m. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle, anticlockwise seen from outside. */
  readonly triangles: Uint32Array;
  /** Closed node loops: the outer edge first, then the holes. */
  readonly boundary: readonly Uint32Array[];
  /** Node chain of each rib, in its direction, in the order of `panel.ribs`. */
  readonly ribs: readonly Uint32Array[];
}

/**
 * Meshes the panel with edges of about `size` m along its ribs and the edges of its patches' working parts, and lifts the nodes to the
 * dome. Triangles shrink to 0.4 size at the ribs' ends, where the rib's force enters the plate (without this a mesh of
 * 8 mm is 1 to 3 % stiff in the lowest modes of panel cases c07 to c10). Fails as the mesher does.
 */
export function panelMesh(panel: Panel, size: number): Outcome<ShellMesh> {
  const made = planOfPanel(panel, size, []);
  if (!made.ok) return made;
  return done(
    lifted(made.value, panel, (x, y) => domeHeight(panel.dome, x, y)),
    made.warnings,
  );
}

/** The panel's plan mesh; `lines` are followed besides ribs and patches. Its first lines are the panel's ribs. */
export function planOfPanel(panel: Panel, size: number, lines: readonly Polyline[]): Outcome<PlanMesh> {
  const ribs = panel.ribs.map((rib) => rib.path);
  const edges = panel.patches.map(workingPolygon).flatMap((p) => insideEdges(panel, p, size));
  const ends = panel.ribs.flatMap(({ path }) => [path.slice(0, 2), path.slice(-2)]);
  return meshPlan(
    { outline: panel.outline, holes: panel.holes, lines: [...ribs, ...edges, ...lines] },
    { size, grading: 0.3, sizeNear: ends.map((points) => ({ points, size: 0.4 * size, reach: 0.6 * size })) },
  );
}

/** The shell at `height` (m) over a plan mesh whose first lines are the panel's ribs. */
export function lifted(
  plan: PlanMesh,
  panel: Pick<Panel, "ribs">,
  height: (x: number, y: number) => number,
): ShellMesh {
  const count = plan.nodes.length / 2;
  const nodes = new Float64Array(3 * count);
  for (let k = 0; k < count; k++) {
    const [x, y] = [plan.nodes[2 * k], plan.nodes[2 * k + 1]];
    nodes[3 * k] = x;
    nodes[3 * k + 1] = y;
    nodes[3 * k + 2] = height(x, y);
  }
  return {
    plan,
    nodes,
    triangles: plan.triangles,
    boundary: plan.boundary,
    ribs: plan.lines.slice(0, panel.ribs.length),
  };
}

/** A polygon's edges as far as they lie inside the plate; slivers shorter than a tenth of the mesh size are left out. */
function insideEdges(panel: Panel, p: Polygon, size: number): Polyline[] {
  const n = p.length / 2;
  const pieces: Polyline[] = [];
  for (let i = 0; i < n; i++) {
    const from = [p[2 * i], p[2 * i + 1]] as const;
    const j = (i + 1) % n;
    const to = [p[2 * j], p[2 * j + 1]] as const;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    for (const [a, b] of clipSegment(panel.outline, panel.holes, from, to)) {
      if (b - a < 0.1 * size) continue;
      const at = (s: number): readonly [number, number] => [
        from[0] + ((to[0] - from[0]) * s) / length,
        from[1] + ((to[1] - from[1]) * s) / length,
      ];
      pieces.push(Float64Array.of(...at(a), ...at(b)));
    }
  }
  return pieces;
}
