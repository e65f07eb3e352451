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
  /** 3 x 3, m/N: static compliance minus that of the modes. */
  readonly residual: Float64Array;
  /** Pa at 1 m along the top's normal per unit modal acceleration, by mode; real: a compact source. */
  readonly pressure: Float64Array;
}
