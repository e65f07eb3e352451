import { type Context, done, modesBelow, type Outcome } from "#engine/numerics";
import type { CavityField } from "./cavityRecords.ts";

export interface ClosedModes {
  readonly count: number;
  /** (omega/c)2, 1/m2; the first is 0. */
  readonly lambda: Float64Array;
  /** count x n: mean square 1 over the volume; the first is 1 everywhere. */
  readonly modes: Float64Array;
  /** 1/m2: see `CavityField`. */
  readonly shift: number;
  /** (stiffness + shift mass)^-1 of columns x n loads. */
  readonly solve: (loads: Float64Array, columns: number) => Float64Array;
}

/** shift = lambda at the upper limit over this: the static solution without the listed modes errs by less than that part. */
const SHIFT_PART = 2000;

/**
 * Modes of the air with every wall rigid and the hole shut, all of them up to lambda = `limit`: K psi = lambda M psi. The
 * even pressure is put in as exactly that: lambda = 0, psi = 1. Fails with the reasons of `modesBelow`.
 */
export function closedModes(
  { stiffness, mass, analysis }: Pick<CavityField, "stiffness" | "mass" | "analysis">,
  volume: number,
  limit: number,
  ctx: Context,
): Outcome<ClosedModes> {
  const { n } = stiffness;
  const shift = limit / SHIFT_PART;
  const pairs = modesBelow(
    stiffness,
    mass,
    { to: limit, shift, analysis, tolerance: 1e-7, rigid: new Float64Array(n).fill(1) },
    ctx,
  );
  if (!pairs.ok) return pairs;
  const { values, vectors, solve } = pairs.value;
  const scale = Math.sqrt(volume);
  const lambda = values.slice();
  const modes = vectors.map((v) => v * scale);
  lambda[0] = 0;
  modes.fill(1, 0, n);
  return done({ count: lambda.length, lambda, modes, shift, solve });
}
