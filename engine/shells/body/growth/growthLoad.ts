import { facetGrowthLoads } from "../../facetForces.ts";
import { ribGrowthLoads } from "../../ribForces.ts";
import { backSigns } from "../motionRows.ts";
import { plateSlope } from "../plateMesh.ts";
import type { BodyGauge } from "../stress/bodyStress.ts";

/**
 * Loads by row (for `bodyStatic`) of the growth of every sheet and brace of a grown body (`grownBody`, its gauge): initial
 * strains as nodal loads, joints rigid. They balance by themselves.
 */
export function growthLoad({ system, facets }: BodyGauge): Float64Array {
  const { layout, mesh, spec } = system;
  const { start, row, weight } = layout.map;
  const b = new Float64Array(system.n);
  const push = (motion: number, value: number): void => {
    for (let p = start[motion]; p < start[motion + 1]; p++) b[row[p]] += weight[p] * value;
  };
  for (const which of ["top", "back"] as const) {
    const own = facets[which];
    const plate = mesh[which];
    const panel = which === "top" ? mesh.topPanel : mesh.backPanel;
    if (own === null || plate === null || panel === null) continue;
    const motions = which === "top" ? layout.topMotion : layout.backMotion;
    const sign = (q: number): number => (which === "top" ? 1 : backSigns[q]);
    facetGrowthLoads(own, (e, load) => {
      for (let k = 0; k < 18; k++)
        push(motions[6 * plate.triangles[3 * e + Math.floor(k / 6)] + (k % 6)], sign(k % 6) * load[k]);
    });
    const turns: number[] = [];
    let turn = 2 * plate.nodes.length;
    for (const chain of plate.ribs) {
      turns.push(turn);
      turn += chain.length;
    }
    ribGrowthLoads(
      panel,
      plate,
      (r, at, load) => {
        for (let k = 0; k < 12; k++)
          push(motions[6 * plate.ribs[r][at + Math.floor(k / 6)] + (k % 6)], sign(k % 6) * load[k]);
        for (let end = 0; end < 2; end++) push(motions[turns[r] + at + end], load[12 + end]);
      },
      plateSlope(spec, which),
    );
  }
  if (facets.side !== null) {
    const { triangles } = facets.side;
    facetGrowthLoads(facets.side, (e, load) => {
      for (let k = 0; k < 18; k++) push(6 * triangles[3 * e + Math.floor(k / 6)] + (k % 6), load[k]);
    });
  }
  return b;
}
