import { planLocator } from "#engine/meshing";
import { seatedRib } from "../body/plateSeat.ts";
import type { PanelRib } from "../panel.ts";
import { facetPoint } from "./facetPoint.ts";
import type { RibGround } from "./ribGround.ts";

/** Half waves along a line: of the force along the normal, of that along the line, of the couple about it. */
const halfWaves = [11, 7, 6] as const;
/** Points of a line at which its loads act. */
const points = 60;

/**
 * Smooth loads of the structure (each n) as a rib on any of some lines may put on its plate: forces along the plate's normal and along
 * the line and couples about it, each in half waves from end to end. Lines that leave the plate are left out.
 */
export function ribLoads(ground: RibGround, lines: readonly PanelRib[], n: number): Float64Array {
  const { mesh, motions, rows, panel } = ground;
  const locate = planLocator(mesh.plan);
  const loads: Float64Array[] = [];
  for (const line of lines) {
    const [seated] = seatedRib(line, panel.outline, panel.holes);
    if (seated === undefined) continue;
    const { path } = seated;
    const [x, y] = [path[0], path[1]];
    const [dx, dy] = [path[path.length - 2] - x, path[path.length - 1] - y];
    const length = Math.hypot(dx, dy);
    const [ux, uy] = [dx / length, dy / length];
    const own = halfWaves.map((count) => Array.from({ length: count }, () => new Float64Array(n)));
    for (let k = 0; k < points; k++) {
      const s = (k + 0.5) / points;
      const found = locate(x + s * dx, y + s * dy);
      if (found === null) continue;
      const { motions: at } = facetPoint(mesh, found);
      const put = (load: Float64Array, motion: number, value: number): void => {
        for (const [m, w] of at[motion])
          for (let p = motions.start[m]; p < motions.start[m + 1]; p++)
            load[rows[motions.row[p]]] += value * w * motions.weight[p];
      };
      own.forEach((waves, kind) => {
        waves.forEach((load, j) => {
          const value = (Math.cos(j * Math.PI * s) * length) / points;
          if (kind === 0) put(load, 2, value);
          else {
            put(load, kind === 1 ? 0 : 3, ux * value);
            put(load, kind === 1 ? 1 : 4, uy * value);
          }
        });
      });
    }
    loads.push(...own.flat());
  }
  const out = new Float64Array(loads.length * n);
  loads.forEach((load, i) => {
    out.set(load, i * n);
  });
  return out;
}
