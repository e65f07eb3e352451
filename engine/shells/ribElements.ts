import type { DomeSpec } from "#engine/geometry";
import { type EdgeBeam, edgeBeam, emptyEdgeBeam } from "./elements/edgeBeam.ts";
import type { Panel } from "./panel.ts";
import { ribSection } from "./ribSection.ts";
import type { ShellMesh } from "./shellMesh.ts";
import { thicknessAt } from "./thicknessAt.ts";

/** Outward unit normal of the mid-surface at a plan point; `slope`: rise per metre along x that the dome stands on. */
function surfaceNormal(
  dome: DomeSpec | null,
  x: number,
  y: number,
  slope: number,
): readonly [number, number, number] {
  const dx = dome === null ? 0 : (x - dome.apex[0]) / dome.radius;
  const dy = dome === null ? 0 : (y - dome.apex[1]) / dome.radius;
  const dz = Math.sqrt(1 - dx * dx - dy * dy);
  const size = Math.hypot(dx - slope * dz, dy, dz);
  return [(dx - slope * dz) / size, dy / size, dz / size];
}

/** The edge i-j: length, unit tangent, and the surface normal at its middle made square to the tangent. */
export function edgeFrame(
  mesh: ShellMesh,
  dome: DomeSpec | null,
  i: number,
  j: number,
  slope = 0,
): { length: number; tangent: number[]; normal: number[] } {
  const p = mesh.nodes;
  const d = [0, 1, 2].map((k) => p[3 * j + k] - p[3 * i + k]);
  const length = Math.hypot(d[0], d[1], d[2]);
  const tangent = d.map((v) => v / length);
  const n = surfaceNormal(dome, (p[3 * i] + p[3 * j]) / 2, (p[3 * i + 1] + p[3 * j + 1]) / 2, slope);
  const along = n[0] * tangent[0] + n[1] * tangent[1] + n[2] * tangent[2];
  const square = n.map((v, k) => v - along * tangent[k]);
  const size = Math.hypot(square[0], square[1], square[2]);
  return { length, tangent, normal: square.map((v) => v / size) };
}

/**
 * Calls `take` with every rib element (rib, place in its chain) and its matrices (one memory, filled anew each time).
 * `slope`: rise per metre along x of the plane that the dome stands on (a tapered body's back).
 */
export function ribElements(
  panel: Panel,
  mesh: ShellMesh,
  take: (rib: number, at: number, beam: EdgeBeam) => void,
  slope = 0,
): void {
  const beam = emptyEdgeBeam();
  const plan = mesh.plan.nodes;
  panel.ribs.forEach((rib, r) => {
    const chain = mesh.ribs[r];
    const lengths = Array.from({ length: chain.length - 1 }, (_, k) =>
      Math.hypot(
        plan[2 * chain[k + 1]] - plan[2 * chain[k]],
        plan[2 * chain[k + 1] + 1] - plan[2 * chain[k] + 1],
      ),
    );
    const total = lengths.reduce((a, b) => a + b, 0);
    let run = 0;
    for (let k = 0; k + 1 < chain.length; k++) {
      const [i, j] = [chain[k], chain[k + 1]];
      const frame = edgeFrame(mesh, panel.dome, i, j, slope);
      const thickness = thicknessAt(
        panel.thickness,
        (plan[2 * i] + plan[2 * j]) / 2,
        (plan[2 * i + 1] + plan[2 * j + 1]) / 2,
      );
      const start = run;
      const piece = lengths[k];
      run += piece;
      edgeBeam(
        frame.length,
        frame.tangent,
        frame.normal,
        (xi) => ribSection(rib, (start + xi * piece) / total, thickness),
        beam,
      );
      take(r, k, beam);
    }
  });
}
