import type { PanelRib } from "../../panel.ts";
import { forcesByRibElement } from "../../ribForces.ts";
import { ribHeight } from "../../ribSection.ts";
import type { ShellMesh } from "../../shellMesh.ts";
import { extremes } from "./extremes.ts";
import type { PlateGauge } from "./plateStress.ts";
import type { RibEndStress, RibStress } from "./stressTypes.ts";

/** One rib element: forces at its middle. */
interface Station {
  /** Along the rib from its start, plan, m. */
  readonly s: number;
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly height: number;
  readonly axial: number;
  readonly moment: number;
  readonly shear: number;
}

/**
 * Stresses of a plate's ribs from their section forces (`forces` by rib, as ribForces has them). N and M act on the rectangle
 * that stands for the brace; the free face is that of the brace as cut (`fullHeight`).
 */
export function ribStresses(
  { panel, mesh, which }: PlateGauge,
  forces: readonly Float64Array[],
): RibStress[] {
  return panel.ribs.map((rib, r) => {
    const stations = stationsOf(rib, mesh, r, forces[r]);
    const sign = rib.side === "inside" ? -1 : 1;
    const [glued, free, shear, glue] = [extremes(), extremes(), extremes(), extremes()];
    for (const { x, y, height: h, axial, moment, shear: v } of stations) {
      const area = rib.width * h;
      const bend = moment / ((rib.width * h ** 3) / 12);
      // heights over the centroid along the plate's normal
      const toGlue = (-sign * h) / 2;
      const toFree = sign * h * ((rib.fullHeight ?? 1) - 0.5);
      glued.offer(axial / area + bend * toGlue, x, y);
      free.offer(axial / area + bend * toFree, x, y);
      shear.offer((1.5 * v) / area, x, y);
    }
    const total = stations.reduce((t, one) => t + one.length, 0);
    let sum = 0;
    let run = 0;
    for (const { s, x, y, height, length } of stations) {
      // over a length of its height about the place, within the brace
      const window = Math.min(height, total);
      const from = Math.min(Math.max(0, s - window / 2), total - window);
      const tau =
        (axialAt(stations, total, from + window) - axialAt(stations, total, from)) / (window * rib.width);
      glue.offer(tau, x, y);
      sum += Math.abs(tau) * length;
      run += length;
    }
    return {
      plate: which,
      rib: rib.name ?? `rib ${r + 1}`,
      glued: { tension: glued.most(), compression: glued.least() },
      free: { tension: free.most(), compression: free.least() },
      shear: shear.largest(),
      glue: { mean: sum / run, peak: glue.largest() },
      ends: [ribEnd(rib, stations, total, sign, 0), ribEnd(rib, stations, total, sign, 1)],
    };
  });
}

function stationsOf(rib: PanelRib, mesh: ShellMesh, r: number, forces: Float64Array): Station[] {
  const chain = mesh.ribs[r];
  const plan = mesh.plan.nodes;
  const pieces = Array.from({ length: chain.length - 1 }, (_, k) => {
    const [i, j] = [2 * chain[k], 2 * chain[k + 1]];
    return { x: plan[i], y: plan[i + 1], dx: plan[j] - plan[i], dy: plan[j + 1] - plan[i + 1] };
  });
  const total = pieces.reduce((sum, { dx, dy }) => sum + Math.hypot(dx, dy), 0);
  let run = 0;
  return pieces.map(({ x, y, dx, dy }, k) => {
    const length = Math.hypot(dx, dy);
    const s = run + length / 2;
    run += length;
    const at = forcesByRibElement * k;
    return {
      s,
      x: x + dx / 2,
      y: y + dy / 2,
      length,
      height: ribHeight(rib, s / total),
      axial: forces[at],
      moment: forces[at + 1],
      shear: forces[at + 2],
    };
  });
}

/** Axial force along the rib: nought at its two ends, linear between the middles of its elements. */
function axialAt(stations: readonly Station[], total: number, s: number): number {
  let before = { s: 0, axial: 0 };
  for (const after of [...stations, { s: total, axial: 0 }]) {
    if (s <= after.s && after.s > before.s)
      return before.axial + ((after.axial - before.axial) * (s - before.s)) / (after.s - before.s);
    before = after;
  }
  return 0;
}

/**
 * The glue under a rib's end over the length d, taken as the way to the first element's middle that lies a rib's height from the
 * end (at most a quarter of the rib): the forces N, V, M of the section there hang on it. With c the centroid's height over
 * the glue along the plate's normal, equilibrium about the middle of that length and a normal stress running straight give
 *   moment = M + c N - V d/2,  shear = N / (w d),  at the very end  peel = -V / (w d) - 6 moment / (w d2)
 * for a rib inside (z along the normal; V, M positive as in edgeBeam.ts), the other way round for one outside.
 */
function ribEnd(
  rib: PanelRib,
  stations: readonly Station[],
  total: number,
  sign: number,
  end: 0 | 1,
): RibEndStress {
  const inward = end === 0 ? stations : [...stations].reverse();
  const depth = (one: Station): number => (end === 0 ? one.s : total - one.s);
  const cut = inward.find((one) => depth(one) >= one.height || depth(one) > total / 4) ?? inward[0];
  const d = depth(cut);
  const w = rib.width;
  const c = (sign * cut.height) / 2;
  // seen from the other end the section's forces keep their sign but for V
  const v = end === 0 ? cut.shear : -cut.shear;
  const moment = cut.moment + c * cut.axial - (v * d) / 2;
  const [x, y] = [inward[0].x, inward[0].y];
  const opening = -sign;
  return {
    x,
    y,
    over: d,
    shear: cut.axial / (w * d),
    peelMoment: -opening * moment,
    peel: opening * (-v / (w * d) - (6 * moment) / (w * d * d)),
  };
}
