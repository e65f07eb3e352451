import { type Context, done, failed, lowestModes, type Outcome } from "#engine/numerics";
import type { CavityMatrices } from "./cavityMatrices.ts";

export interface ClosedModes {
  readonly count: number;
  /** (omega/c)2, 1/m2; the first is 0. */
  readonly lambda: Float64Array;
  /** count x n: mean square 1 over the volume; the first is 1 everywhere. */
  readonly modes: Float64Array;
  /** 1/m2: see `CavityField`. */
  readonly shift: number;
}

/** What the number of modes is guessed from: volume (m3), wall (m2) and the length of all edges (m). */
interface Extent {
  readonly volume: number;
  readonly wall: number;
  readonly edges: number;
}

/** shift = lambda at the upper limit over this: the static solution without the listed modes errs by less than that part. */
const SHIFT_PART = 2000;

/**
 * Modes of the air with every wall rigid and the hole shut, up to lambda = `limit`: K psi = lambda M psi. How many there
 * will be is foreseen by the law of the mean count N = 4 pi V/3 q3 + pi S/4 q2 + L/8 q, q = 1/wavelength (MORSE-INGARD,
 * from memory), and asked for again with more until the highest lies above the limit. The even pressure is put in as
 * exactly that: lambda = 0, psi = 1. Fails with the reasons of `lowestModes`.
 */
export function closedModes(
  { stiffness, mass, group }: CavityMatrices,
  extent: Extent,
  limit: number,
  ctx: Context,
): Outcome<ClosedModes> {
  const { n } = stiffness;
  const q = Math.sqrt(limit) / (2 * Math.PI);
  const { volume, wall, edges } = extent;
  const mean = ((4 * Math.PI) / 3) * volume * q ** 3 + (Math.PI / 4) * wall * q ** 2 + (edges / 8) * q;
  const shift = limit / SHIFT_PART;
  for (let ask = Math.ceil(1.05 * mean) + 4; ; ask = Math.ceil(1.3 * ask) + 2) {
    if (ask > n / 3)
      return failed(
        "mesh-too-coarse",
        `${ask} modes of the cavity are wanted of ${n} nodes: a smaller size is needed`,
      );
    const pairs = lowestModes(stiffness, mass, { count: ask, shift, group, tolerance: 1e-7 }, ctx);
    if (!pairs.ok) return pairs;
    const { values, vectors } = pairs.value;
    if (values[ask - 1] <= limit) continue;
    const count = values.findIndex((v) => v > limit);
    const lambda = values.slice(0, Math.max(1, count));
    const scale = Math.sqrt(volume);
    const modes = vectors.slice(0, lambda.length * n).map((v) => v * scale);
    lambda[0] = 0;
    modes.fill(1, 0, n);
    return done({ count: lambda.length, lambda, modes, shift });
  }
}
