import type { PlateModes } from "#engine/shells";
import type { BackSeat } from "./bodyParts.ts";

/**
 * The back's rigid motion seen in its own plate frame: 6 x 6, (plate frame) = T (body frame), both [U, Theta] about
 * their origins. The frame sits at (0, 0, -depth), its axes in the body frame, with tan p = slope:
 *   e1 = (cos p, 0, -sin p),   e2 = (0, 1, 0),   e3 = (-sin p, 0, -cos p)  outward
 * e1 x e2 = -e3: a mirrored frame, in which a turning vector changes sign beside being resolved.
 */
export function backFrame(seat: BackSeat): Float64Array {
  const p = Math.atan(seat.slope);
  const axes = [
    [Math.cos(p), 0, -Math.sin(p)],
    [0, 1, 0],
    [-Math.sin(p), 0, -Math.cos(p)],
  ];
  const t = new Float64Array(36);
  axes.forEach(([x, y, z], i) => {
    // U + Theta x (0, 0, -depth) = U + (-depth Theta_y, depth Theta_x, 0)
    t.set([x, y, z, y * seat.depth, -x * seat.depth, 0], 6 * i);
    t.set([0, 0, 0, -x, -y, -z], 6 * (i + 3));
  });
  return t;
}

/**
 * Outward motion (z) at the nodes of a plate, (count + 6) x nodes: its modes, then its rigid motions [U, Theta] about the
 * origin of its frame, of which only Uz, Theta_x (y) and Theta_y (-x) move anything outward.
 */
export function outwardMotion(plate: PlateModes): Float64Array {
  const { count, shapes, mesh } = plate;
  const n = mesh.nodes.length / 3;
  const out = new Float64Array((count + 6) * n);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < n; k++) out[i * n + k] = shapes[(i * n + k) * 6 + 2];
  }
  for (let k = 0; k < n; k++) {
    out[(count + 2) * n + k] = 1;
    out[(count + 3) * n + k] = mesh.nodes[3 * k + 1];
    out[(count + 4) * n + k] = -mesh.nodes[3 * k];
  }
  return out;
}
