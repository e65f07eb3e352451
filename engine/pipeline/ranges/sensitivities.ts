import type { SmallBody } from "./smallBody.ts";

/**
 * Relative change of each coupled mode's undamped frequency per unit of relative change of each uncertain value:
 *   (1/w) dw/dp = phi' (K_p - w^2 M_p) phi / (2 w^2),   phi' M phi = 1,
 * exact at the nominal place: slopes x modes, value after value. Modes that the damping couples move with the mean of both.
 */
export function sensitivities({ coupling, still, size, slopes }: SmallBody): Float64Array {
  const modes = size - still;
  const out = new Float64Array(slopes.length * modes);
  slopes.forEach(({ stiffness, mass }, p) => {
    if (stiffness === null || mass === null) return;
    for (let i = 0; i < modes; i++) {
      const at = (still + i) * size + still + i;
      const square = coupling.system.stiffness[at]! / coupling.system.mass[at]!;
      out[p * modes + i] = (stiffness[at]! - square * mass[at]!) / (2 * square);
    }
  });
  return out;
}
