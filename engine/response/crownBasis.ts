import { locate } from "#engine/meshing";
import { done, failed, type Outcome } from "#engine/numerics";
import { motionAt, type ShellMesh } from "#engine/shells";
import type { BodyParts } from "./bodyParts.ts";

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
  const { crowns } = parts;
  const c = crowns.length;
  const out = new Float64Array(3 * c * n);
  for (let i = 0; i < c; i++) {
    const { x, y, height, string } = crowns[i];
    const rows = crownRows(parts, x, y, height, n, rigidAt);
    if (!rows)
      return failed("crown-outside", `the crown of string ${string} at (${x}, ${y}) m is not over the top`);
    out.set(rows, 3 * i * n);
  }
  const mean = (pick: (crown: (typeof crowns)[number]) => number) =>
    crowns.reduce((sum, k) => sum + pick(k), 0) / c;
  const middle = crownRows(
    parts,
    mean((k) => k.x),
    mean((k) => k.y),
    mean((k) => k.height),
    n,
    rigidAt,
  );
  if (!middle) return failed("crown-outside", "the saddle's midpoint is not over the top");
  return done({ crowns: out, saddle: middle.slice(0, n) });
}

/** 3 x n, or null off the plate. */
function crownRows(
  parts: BodyParts,
  x: number,
  y: number,
  h: number,
  n: number,
  rigidAt: number | null,
): Float64Array | null {
  const { top } = parts;
  const motion = motionAt(top, x, y);
  if (!motion) return null;
  const rows = new Float64Array(3 * n);
  for (let i = 0; i < top.count; i++) {
    const at = (component: number) => motion[component * top.count + i];
    rows[i] = at(2);
    rows[n + i] = at(1) - h * at(3);
    rows[2 * n + i] = at(0) + h * at(4);
  }
  if (rigidAt !== null) {
    const z = surfaceHeight(top.mesh, x, y) + h;
    // Theta x (x, y, z) = (Ty z - Tz y, Tz x - Tx z, Tx y - Ty x)
    rows.set([0, 0, 1, y, -x, 0], rigidAt);
    rows.set([0, 1, 0, -z, 0, x], n + rigidAt);
    rows.set([1, 0, 0, 0, z, -y], 2 * n + rigidAt);
  }
  return rows;
}

/** Height of the mid-surface over the plane of the edge, m. */
function surfaceHeight(mesh: ShellMesh, x: number, y: number): number {
  const place = locate(mesh.plan, x, y);
  if (!place) return 0;
  let z = 0;
  for (let c = 0; c < 3; c++)
    z += place.barycentric[c] * mesh.nodes[3 * mesh.triangles[3 * place.triangle + c] + 2];
  return z;
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
