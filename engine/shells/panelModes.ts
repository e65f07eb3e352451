import { type Context, done, failed, lowestModes, type Outcome, quadraticForms } from "#engine/numerics";
import type { PanelSystem } from "./panelSystem.ts";

/** Elastic modes of a panel, mass-normalised (phi' M phi = 1). */
interface PanelModes {
  /** rad/s, ascending. */
  readonly omega: Float64Array;
  /** By strain-energy share of each complex elastic constant. */
  readonly lossFactor: Float64Array;
  /** modes x nodes x 6: ux, uy, uz, rx, ry, rz. */
  readonly shapes: Float64Array;
}

/**
 * The lowest `count` elastic modes; the six rigid ones of a free panel are left out. Loss factors are first order:
 * phi' Im(K) phi / phi' K phi. Fails as the eigensolver does, or if a free panel has not just six rigid motions.
 */
export function panelModes(system: PanelSystem, count: number, ctx: Context): Outcome<PanelModes> {
  const { panel, mesh, dof, group, stiffness, mass, lossStiffness } = system;
  const rigid = panel.edge.kind === "free" ? 6 : 0;
  const solved = lowestModes(
    stiffness,
    mass,
    { count: count + rigid, shift: rigid ? freeShift(system) : 0, group },
    ctx,
  );
  if (!solved.ok) return solved;
  const { values, vectors } = solved.value;
  if (rigid && !(Math.abs(values[5]) < 1e-5 * values[6])) {
    return failed(
      "rigid-motions",
      `a free panel should have six rigid motions; sixth and seventh eigenvalue: ${values[5]}, ${values[6]}`,
    );
  }
  const rows = stiffness.n;
  const nodes = mesh.nodes.length / 3;
  const found = Math.min(count, values.length - rigid);
  const omega = new Float64Array(found);
  const lossFactor = new Float64Array(found);
  const shapes = new Float64Array(found * nodes * 6);
  const lost = quadraticForms(lossStiffness, vectors.subarray(rigid * rows), found);
  for (let m = 0; m < found; m++) {
    const value = values[m + rigid];
    const v = vectors.subarray((m + rigid) * rows, (m + rigid + 1) * rows);
    omega[m] = Math.sqrt(value);
    lossFactor[m] = lost[m] / value;
    for (let k = 0; k < dof.length; k++) if (dof[k] >= 0) shapes[m * nodes * 6 + k] = v[dof[k]];
  }
  return done({ omega, lossFactor, shapes }, solved.warnings);
}

/** A shift below the first elastic mode of a free panel, of its order: trace(K) / trace(M) is far too high, so by size. */
function freeShift(system: PanelSystem): number {
  const { panel, mesh } = system;
  const [x0, y0, x1, y1] = mesh.plan.nodes.reduce(
    (b, v, k) => {
      b[k % 2] = Math.min(b[k % 2], v);
      b[2 + (k % 2)] = Math.max(b[2 + (k % 2)], v);
      return b;
    },
    [Infinity, Infinity, -Infinity, -Infinity],
  );
  const thickness = typeof panel.thickness === "number" ? panel.thickness : panel.thickness.spots[0][2];
  const bending = (panel.wood.ER * thickness ** 3) / 12;
  const size = Math.hypot(x1 - x0, y1 - y0);
  return (50 * bending) / (panel.wood.density * thickness * size ** 4);
}
