/** The part of a string that sounds, between two crowns. m, N, N m2, kg/m. */
export interface SoundingPart {
  readonly length: number;
  readonly tension: number;
  readonly bendingStiffness: number;
  readonly linearDensity: number;
  /**
   * Resistance to turning at each end over sqrt(EI T): 0 is a hinge, Infinity a clamp, 1 a string that runs on
   * endlessly behind the crown under the same tension.
   */
  readonly ends: readonly [number, number];
}

/**
 * Frequency of partial n of a stiff string, Hz, from the exact equation of the tensioned beam
 *   k L - delta(end 1) - delta(end 2) = n pi,   tan delta = h k e/(1 + 2 k^2 e^2 + h sqrt(1 + k^2 e^2)),
 *   omega^2 = (T k^2 + EI k^4)/mu,   e = sqrt(EI/T),  h the resistance of an end
 * which follows from w = sin(k x - delta) + sin(delta) exp(-k1 x) near an end, k1^2 = k^2 + 1/e^2, w = 0 and
 * EI w'' = h sqrt(EI T) w' (derived here). Hinges give FLETCHER-1964, clamps Morse's expansion. What the ends tell each
 * other through exp(-L/e) is left out: below 1e-9 from L = 20 e on. For small e each end takes h/(1 + h) of e from the length.
 */
export function soundingFrequency(part: SoundingPart, n = 1): number {
  const { length, tension, bendingStiffness, linearDensity } = part;
  const reach = Math.sqrt(bendingStiffness / tension);
  let k = (n * Math.PI) / length;
  // each pass gains the factor e/L: about 2 1/2 digits
  for (let pass = 0; pass < 40; pass++) {
    const turned = endPhase(part.ends[0], k * reach) + endPhase(part.ends[1], k * reach);
    const next = (n * Math.PI + turned) / length;
    const settled = Math.abs(next - k) <= 4 * Number.EPSILON * k;
    k = next;
    if (settled) break;
  }
  const bent = bendingStiffness * k * k;
  return (k * Math.sqrt((tension + bent) / linearDensity)) / (2 * Math.PI);
}

function endPhase(held: number, ke: number): number {
  const root = Math.sqrt(1 + ke * ke);
  if (held === Number.POSITIVE_INFINITY) return Math.atan(ke / root);
  return Math.atan((held * ke) / (1 + 2 * ke * ke + held * root));
}
