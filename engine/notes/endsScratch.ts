/** Of the answer of `endsSecular`: re, im each; Z of the even and of the odd motion; G (10 numbers); adj(I + Z G), 4 x 4. */
export const endsSlot = {
  even: 0,
  odd: 2,
  value: 4,
  slope: 6,
  compliance: 8,
  adjoint: 28,
  size: 60,
} as const;

export interface EndsScratch {
  /** dG/dlambda, 10 complex numbers. */
  readonly steep: Float64Array;
  /** dZ/dlambda, even and odd. */
  readonly ends: Float64Array;
  /** I + Z G: 4 x 4 complex; minors of its upper and its lower two rows. */
  readonly matrix: Float64Array;
  readonly minors: Float64Array;
  /** Powers of 1/(lambda_i - lambda) by mode: 4 numbers. */
  readonly powers: Float64Array;
  readonly out: Float64Array;
}

/** `modes`: of the body. */
export function endsScratch(modes: number): EndsScratch {
  return {
    steep: new Float64Array(20),
    ends: new Float64Array(4),
    matrix: new Float64Array(32),
    minors: new Float64Array(24),
    powers: new Float64Array(4 * modes),
    out: new Float64Array(endsSlot.size),
  };
}
