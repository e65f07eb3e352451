import type { ModePressure } from "#engine/response";

/**
 * The body as one string feels it at its crown, however it was modelled: modes and what the missing modes leave.
 *   G(lambda) = sum_i shape_i shape_i' / (omega_i^2 (1 + i/q_i) - lambda) + residual,   lambda = w^2
 * is the compliance (m/N) in the directions [normal, across, along] of docs/conventions.md. The string is taken not to
 * feel motion along itself, so the third row and column are carried but not used.
 */
export interface BridgeModes {
  /** rad/s by mode, undamped: the complex stiffness is omega^2 (1 + i/q). Rigid motions of the whole body have omega 0. */
  readonly omega: Float64Array;
  /** By mode; not used where omega is 0. */
  readonly q: Float64Array;
  /** count x 3, mass-normalised (kg^-1/2), mode after mode. */
  readonly shape: Float64Array;
  /** Imaginary parts of the shapes, where damping couples the modes; absent: none. G takes s s', no conjugate. */
  readonly shapeIm?: Float64Array;
  /** 3 x 3, m/N: static compliance minus that of the modes. */
  readonly residual: Float64Array;
  /** Pa at 1 m along the top's normal per unit modal acceleration, by mode; real: a compact source. */
  readonly pressure: Float64Array;
  /** The same by frequency and complex, its first listener taken; absent or null: `pressure` holds at every frequency. */
  readonly sound?: ModePressure | null;
}

/** What is wrong with the record, in words, or null. */
export function bridgeModesFault(body: BridgeModes): string | null {
  const count = body.omega.length;
  const lengths: readonly (readonly [string, Float64Array, number])[] = [
    ["q", body.q, count],
    ["shape", body.shape, 3 * count],
    ["shapeIm", body.shapeIm ?? body.shape, 3 * count],
    ["residual", body.residual, 9],
    ["pressure", body.pressure, count],
  ];
  for (const [name, values, length] of lengths) {
    if (values.length !== length)
      return `${name} has ${values.length} numbers for ${count} modes; ${length} are needed`;
    const bad = values.findIndex((x, i) => !Number.isFinite(x) && !(name === "q" && body.omega[i] === 0));
    if (bad >= 0) return `${name}[${bad}] is ${values[bad]}`;
  }
  for (let i = 0; i < count; i++) {
    if (!(body.omega[i]! >= 0 && Number.isFinite(body.omega[i]!))) return `omega[${i}] is ${body.omega[i]}`;
    if (body.omega[i]! > 0 && !(body.q[i]! > 0)) return `q[${i}] is ${body.q[i]}; it must be positive`;
  }
  return null;
}
