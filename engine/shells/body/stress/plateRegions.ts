import type { Panel } from "../../panel.ts";
import { misses, type PreparedPolygon, preparedOverlap, preparedPolygon } from "../../preparedPolygon.ts";
import type { ShellMesh } from "../../shellMesh.ts";
import { workingPolygon } from "../../workingPolygon.ts";
import type { BodySystem } from "../bodyModel.ts";
import { edgeDistance2, lineBlocks, nearestEdge } from "../lineBlocks.ts";
import { liningStrip, sideLine } from "../plateSeat.ts";

/** Parts of a plate with one and the same stack of layers. */
export interface PlateRegions {
  /**
   * Region of each triangle; 0: none, held in a solid block, which strains nothing, or under the edge of a patch where the model
   * leaves the patch's stiffness out (workingPolygon.ts) and strains stand for those of the place behind the edge.
   */
  readonly ofTriangle: Uint32Array;
  readonly regions: readonly PlateRegion[];
}

export interface PlateRegion {
  /** Patches that lie on it, places in the panel. */
  readonly patches: readonly number[];
  /** In the strip over the lining. */
  readonly lined: boolean;
}

/** A triangle belongs to a patch or to the lining's strip if more than half of it (its middle) does. */
export function plateRegions(
  system: BodySystem,
  which: "top" | "back",
  panel: Panel,
  mesh: ShellMesh,
): PlateRegions {
  const { spec, layout } = system;
  const bodyNode = which === "top" ? system.mesh.topNode : system.mesh.backNode;
  const lining = which === "top" ? spec.sides?.topLining : spec.sides?.backLining;
  const line = spec.sides && lining ? lineBlocks(sideLine(spec.sides)) : null;
  const strip = spec.sides && lining ? liningStrip(spec.sides, lining) : 0;
  const working = panel.patches.map((p) => preparedPolygon(workingPolygon(p)));
  const glued = panel.patches.map((p) => preparedPolygon(p.polygon));
  const p = new Float64Array(6);
  const covers = (polygon: PreparedPolygon, area: number): boolean =>
    !misses(polygon, p) && preparedOverlap(polygon, p)[0] > area / 2;
  const regions: PlateRegion[] = [{ patches: [], lined: false }];
  const known = new Map<string, number>();
  const ofTriangle = new Uint32Array(mesh.triangles.length / 3);
  for (let e = 0; e < ofTriangle.length; e++) {
    const corners = mesh.triangles.subarray(3 * e, 3 * e + 3);
    if (corners.every((node) => layout.hangsOn[bodyNode[node]] >= 0)) continue;
    corners.forEach((node, c) => {
      p[2 * c] = mesh.plan.nodes[2 * node];
      p[2 * c + 1] = mesh.plan.nodes[2 * node + 1];
    });
    const area = ((p[2] - p[0]) * (p[5] - p[1]) - (p[4] - p[0]) * (p[3] - p[1])) / 2;
    const patches = working.flatMap((polygon, k) => (covers(polygon, area) ? [k] : []));
    if (glued.some((polygon, k) => !patches.includes(k) && covers(polygon, area))) continue;
    const [x, y] = [(p[0] + p[2] + p[4]) / 3, (p[1] + p[3] + p[5]) / 3];
    const edge = line === null ? -1 : nearestEdge(line, x, y, strip);
    const lined = line !== null && edge >= 0 && edgeDistance2(line.line, edge, x, y) < strip * strip;
    const key = `${patches.join()}|${lined}`;
    ofTriangle[e] = known.get(key) ?? regions.push({ patches, lined }) - 1;
    known.set(key, ofTriangle[e]);
  }
  return { ofTriangle, regions };
}
