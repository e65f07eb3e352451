/**
 * Frequencies at which to solve the outer air so that `exteriorAt` is exact in between: the positive half of twice as many
 * Chebyshev points over [-top, top], Hz ascending. All that is interpolated is even in frequency, so each counts twice.
 * Errors: see `exteriorAt`.
 */
export function exteriorFrequencies(count: number, top: number): Float64Array {
  return Float64Array.from(
    { length: count },
    (_, j) => top * Math.cos(((2 * (count - j) - 1) * Math.PI) / (4 * count)),
  );
}
