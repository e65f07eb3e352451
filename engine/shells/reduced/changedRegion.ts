import type { Polyline } from "#engine/geometry";
import type { Panel } from "../panel.ts";
import type { ShellMesh } from "../shellMesh.ts";

/** Which triangles and ribs of a plate a change may touch. */
export interface ChangedRegion {
  readonly everywhere: boolean;
  /** 3 nodes by triangle, and its place among the mesh's. */
  readonly triangles: Uint32Array;
  readonly places: Uint32Array;
  /** Indices of ribs. */
  readonly ribs: readonly number[];
}

/**
 * Where two panels of one plan may differ: everywhere if plate, grain, thickness or film do; else round the ribs and
 * patches that do.
 */
export function changedRegion(before: Panel, after: Panel, mesh: ShellMesh): ChangedRegion {
  const everywhere =
    !same(before.wood, after.wood) ||
    !same(before.thickness, after.thickness) ||
    !same(before.film, after.film) ||
    before.grainAngle !== after.grainAngle;
  const allRibs = before.ribs.map((_, r) => r);
  const ribs = allRibs.filter((r) => !same(before.ribs[r], after.ribs[r]));
  if (everywhere) {
    // a rib feels the plate through its thickness alone
    const thick = !same(before.thickness, after.thickness);
    const places = Uint32Array.from({ length: mesh.triangles.length / 3 }, (_, e) => e);
    return { everywhere, triangles: mesh.triangles, places, ribs: thick ? allRibs : ribs };
  }
  const boxes: Box[] = ribs.map((r) =>
    grown(before.ribs[r].path, Math.max(before.ribs[r].width, after.ribs[r].width)),
  );
  before.patches.forEach((patch, k) => {
    if (!same(patch, after.patches[k])) boxes.push(grown(patch.polygon, 0));
  });
  const p = mesh.plan.nodes;
  const triangles: number[] = [];
  const places: number[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const nodes = [mesh.triangles[t], mesh.triangles[t + 1], mesh.triangles[t + 2]];
    const xs = nodes.map((k) => p[2 * k]);
    const ys = nodes.map((k) => p[2 * k + 1]);
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    if (!boxes.some((b) => x1 >= b.x0 && x0 <= b.x1 && y1 >= b.y0 && y0 <= b.y1)) continue;
    triangles.push(...nodes);
    places.push(t / 3);
  }
  return { everywhere, triangles: Uint32Array.from(triangles), places: Uint32Array.from(places), ribs };
}

interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

function grown(path: Polyline, by: number): Box {
  const xs = path.filter((_, i) => i % 2 === 0);
  const ys = path.filter((_, i) => i % 2 === 1);
  return {
    x0: Math.min(...xs) - by,
    x1: Math.max(...xs) + by,
    y0: Math.min(...ys) - by,
    y1: Math.max(...ys) + by,
  };
}

/** Equal as plain data. */
function same(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
