/**
 * Frequencies at which to solve the outer air so that `exteriorAt` is exact in between: the positive half of twice as many
 * Chebyshev points over [-top, top], Hz ascending. All that is interpolated is even in frequency, so each counts twice.
 *
 * What limits the interpolation is the pole of the outer air at k = i/a, a the radius of a sphere of about the body's size:
 * the error falls as (s + sqrt(1 + s2))^(-2 count), s = 1/(k a) at the top. For a guitar's body up to 1 kHz 10 frequencies
 * leave 4e-3, 12 leave 1e-3 of the largest impedance (observed).
 */
export function exteriorFrequencies(count: number, top: number): Float64Array {
  return Float64Array.from(
    { length: count },
    (_, j) => top * Math.cos(((2 * (count - j) - 1) * Math.PI) / (4 * count)),
  );
}
