import { planLocator } from "#engine/meshing";
import { seatedRib } from "../body/plateSeat.ts";
import type { PanelRib } from "../panel.ts";
import { facetPoint } from "./facetPoint.ts";
import type { RibGround } from "./ribGround.ts";

/** Half waves along a line: of the force along the normal, of that along the line, of the couple about it. */
type HalfWaves = readonly [normal: number, along: number, about: number];

/** Points of a line at which its loads act. */
const points = 60;

/**
 * Smooth loads (each on the ground's rows) as a rib along a line may put on its plate: forces along the plate's normal and along the
 * line and couples about it, each in half waves from end to end. None where the line leaves the plate.
 */
export function ribLoads(ground: RibGround, line: PanelRib, halfWaves: HalfWaves): readonly Float64Array[] {
  const { mesh, motions, rows, panel } = ground;
  const [seated] = seatedRib(line, panel.outline, panel.holes);
  if (seated === undefined) return [];
  const locate = planLocator(mesh.plan);
  const { path } = seated;
  const [x, y] = [path[0], path[1]];
  const [dx, dy] = [path[path.length - 2] - x, path[path.length - 1] - y];
  const length = Math.hypot(dx, dy);
  const [ux, uy] = [dx / length, dy / length];
  const loads = halfWaves.map((count) => Array.from({ length: count }, () => new Float64Array(rows.length)));
  for (let k = 0; k < points; k++) {
    const s = (k + 0.5) / points;
    const found = locate(x + s * dx, y + s * dy);
    if (found === null) continue;
    const { motions: at } = facetPoint(mesh, found);
    const put = (load: Float64Array, motion: number, value: number): void => {
      for (const [m, w] of at[motion])
        for (let p = motions.start[m]; p < motions.start[m + 1]; p++)
          load[motions.row[p]] += value * w * motions.weight[p];
    };
    loads.forEach((waves, kind) => {
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
  return loads.flat();
}
