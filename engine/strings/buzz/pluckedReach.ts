/** A pluck: where it is let go, from the saddle, and how far the string stood away there square to the crowns, m. */
export interface PluckRelease {
  readonly fromSaddle: number;
  readonly peak: number;
}

/**
 * How far an ideal string reaches towards the frets at a distance from its stopped end, m (0 at both ends).
 *
 *         p                          Let go from a corner p before the saddle, the string is made of two travelling halves of
 *        /\                          its first shape f: y = (F(x - ct) + F(x + ct)) / 2, F odd and periodic in 2 L. The corner
 *   ----/--\----   t = 0             splits in two that run round a parallelogram: half a period later y = -f(L - x), all of
 *   0 /      \ L                     the other side at once, and at no time is it outside. So let go from above it comes
 *    \  /          t = T/2           down to f(L - x), its peak p from the stopped end; let go from below it stood at f(x).
 *     \/
 * The swing turns about its axis and pluck by pluck, so the larger of the two counts. Losses in the first half period,
 * bending stiffness (which rounds the corner) and the width of finger or plectrum are left out: they all lessen it.
 * Source: FLETCHER-ROSSING ch. 2 (from memory); after d'Alembert.
 */
export function pluckedReach(length: number, { fromSaddle, peak }: PluckRelease, place: number): number {
  if (!(fromSaddle > 0 && fromSaddle < length)) return Number.NaN;
  const corner = (at: number): number => (place <= at ? place / at : (length - place) / (length - at));
  return peak * Math.max(corner(fromSaddle), corner(length - fromSaddle));
}
