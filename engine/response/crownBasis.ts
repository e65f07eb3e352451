import { type PlanLocation, planLocator } from "#engine/meshing";
import { done, failed, type Outcome } from "#engine/numerics";
import type { PlateModes } from "#engine/shells";
import type { BodyParts, Crown } from "./bodyParts.ts";

/** Motions of the crowns per unit coordinate of the coupled system. */
export interface CrownBasis {
  /** 3C x n: [normal, across, along] of each crown. */
  readonly crowns: Float64Array;
  /** n: along the normal at the saddle's midpoint crown. */
  readonly saddle: Float64Array;
}

/**
 * A crown stands at height h over the top's mid-surface and moves with it: u = u_plate + theta x (0, 0, h), hence
 *   normal = uz,   across = uy - h rx,   along = ux + h ry
 * of the plate's own modes; the rim carries it rigidly about the body's origin, u = U + Theta x (x, y, z + h), z the
 * mid-surface there. Fails with 'crown-outside' where a crown's foot is not on the top.
 */
export function crownBasis(parts: BodyParts, n: number, rigidAt: number | null): Outcome<CrownBasis> {
  const { top, crowns } = parts;
  const c = crowns.length;
  const find = planLocator(top.mesh.plan);
  const rowsAt = (foot: Omit<Crown, "string">) => crownRows(top, find(foot.x, foot.y), foot, n, rigidAt);
  const out = new Float64Array(3 * c * n);
  for (let i = 0; i < c; i++) {
    const { x, y, string } = crowns[i];
    const rows = rowsAt(crowns[i]);
    if (!rows)
      return failed("crown-outside", `the crown of string ${string} at (${x}, ${y}) m is not over the top`);
    out.set(rows, 3 * i * n);
  }
  const mean = (key: "x" | "y" | "height") => crowns.reduce((sum, crown) => sum + crown[key], 0) / c;
  const middle = rowsAt({ x: mean("x"), y: mean("y"), height: mean("height") });
  if (!middle) return failed("crown-outside", "the saddle's midpoint is not over the top");
  return done({ crowns: out, saddle: middle.slice(0, n) });
}

/** 3 x n, or null off the plate. Motions are linear in the triangle under the foot. */
function crownRows(
  top: PlateModes,
  place: PlanLocation | null,
  foot: Omit<Crown, "string">,
  n: number,
  rigidAt: number | null,
): Float64Array | null {
  if (!place) return null;
  const { x, y, height: h } = foot;
  const nodes = top.nodeArea.length;
  const rows = new Float64Array(3 * n);
  let z = h;
  for (let c = 0; c < 3; c++) {
    const node = top.mesh.triangles[3 * place.triangle + c];
    const share = place.barycentric[c];
    z += share * top.mesh.nodes[3 * node + 2];
    for (let i = 0; i < top.count; i++) {
      const at = (i * nodes + node) * 6;
      rows[i] += share * top.shapes[at + 2];
      rows[n + i] += share * (top.shapes[at + 1] - h * top.shapes[at + 3]);
      rows[2 * n + i] += share * (top.shapes[at] + h * top.shapes[at + 4]);
    }
  }
  if (rigidAt !== null) {
    // Theta x (x, y, z) = (Ty z - Tz y, Tz x - Tx z, Tx y - Ty x)
    rows.set([0, 0, 1, y, -x, 0], rigidAt);
    rows.set([0, 1, 0, -z, 0, x], n + rigidAt);
    rows.set([1, 0, 0, 0, z, -y], 2 * n + rigidAt);
  }
  return rows;
}

/** 3C x 6C: crown motions from the plate motions [ux, uy, uz, rx, ry, rz] at their feet. */
export function crownLever(parts: BodyParts): Float64Array {
  const c = parts.crowns.length;
  const t = new Float64Array(3 * c * 6 * c);
  parts.crowns.forEach(({ height }, i) => {
    const at = (row: number, column: number) => (3 * i + row) * 6 * c + 6 * i + column;
    t[at(0, 2)] = 1;
    t[at(1, 1)] = 1;
    t[at(1, 3)] = -height;
    t[at(2, 0)] = 1;
    t[at(2, 4)] = height;
  });
  return t;
}
