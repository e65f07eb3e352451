import { type Context, quiet } from "#engine/numerics";
import type { EdgeSupport, PanelSystem } from "#engine/shells";
import { wasmKernels } from "#kernels";

/** With the WebAssembly kernels, for speed. */
export const wasm: Context = { ...quiet, kernels: wasmKernels };

/** Supported: the deflection held all round, rotations free; in its plane the edge is held against drifting. */
export const supported = (inPlane: number): EdgeSupport => ({
  kind: "elastic",
  rotation: 0,
  normal: inPlane,
  tangential: inPlane,
  open: [],
});

/** Even membrane forces in every facet, 8 by triangle. */
export function evenForces(system: PanelSystem, nx: number, ny: number): Float64Array {
  const forces = new Float64Array((8 * system.mesh.triangles.length) / 3);
  for (let k = 0; k < forces.length; k += 8) {
    forces[k] = nx;
    forces[k + 1] = ny;
  }
  return forces;
}
