/**
 * One span of a tensioned beam between two supports, EI w'''' = T w'', in the numbers that stay finite as EI -> 0:
 * e = sqrt(EI/T) is the length over which an end bends, and moments are given over sqrt(EI T) a radian.
 *
 * With phi the slope at an end less that of the chord, the slope within is (slopes measured from the chord)
 *   g(x) = A + B exp(-x/e) + C exp(-(l-x)/e),  g(0) = phi0, g(l) = phi1, integral of g = 0
 * Derived here from the equation; l/e must be above about 0.1 (a string has 3 and more).
 */
export interface Span {
  readonly length: number;
  /** e, m. */
  readonly reach: number;
  /** exp(-l/e). */
  readonly fade: number;
  /** Moment at an end by the slope there, and by the slope at the other end, over sqrt(EI T). */
  readonly near: number;
  readonly far: number;
}

export function tensionedSpan(length: number, bendingStiffness: number, tension: number): Span {
  const reach = Math.sqrt(bendingStiffness / tension);
  const fade = reach === 0 ? 0 : Math.exp(-length / reach);
  const r = reach / length;
  const ff = fade * fade;
  const whole = 1 - ff - 2 * r * (1 + ff) + 4 * r * fade;
  return {
    length,
    reach,
    fade,
    near: (1 + ff - r * (1 - ff)) / whole,
    far: (r * (1 - ff) - 2 * fade) / whole,
  };
}

interface SpanShape {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

function spanShape(s: Span, phi0: number, phi1: number): SpanShape {
  const r = s.reach / s.length;
  const sum = (phi0 + phi1) / (1 + s.fade - 2 * r * (1 - s.fade));
  const difference = (phi0 - phi1) / (1 - s.fade);
  return { a: -r * (1 - s.fade) * sum, b: (sum + difference) / 2, c: (sum - difference) / 2 };
}

/** By how much the bent span is longer than its chord, to second order in the slopes from the chord: 1/2 integral g^2. m. */
export function spanExcess(s: Span, phi0: number, phi1: number): number {
  const { a, b, c } = spanShape(s, phi0, phi1);
  const { length, reach, fade } = s;
  return (
    (a * a * length + ((b * b + c * c) / 2) * reach * (1 - fade * fade)) / 2 +
    a * (b + c) * reach * (1 - fade) +
    b * c * length * fade
  );
}

/** Height over the chord at x from the first end, m. */
export function spanRise(s: Span, phi0: number, phi1: number, x: number): number {
  if (s.reach === 0) return 0;
  const { a, b, c } = spanShape(s, phi0, phi1);
  return (
    a * x +
    b * s.reach * (1 - Math.exp(-x / s.reach)) +
    c * s.reach * (Math.exp(-(s.length - x) / s.reach) - s.fade)
  );
}
