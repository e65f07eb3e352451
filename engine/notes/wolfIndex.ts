import { type StretchedString, stringPartials } from "#engine/strings";
import type { Blame } from "./board.ts";
import type { BridgeModes } from "./bridgeModes.ts";

export interface WolfRisk {
  /** 0 for a body that does not move; 1 is the threshold of strong coupling. */
  readonly index: number;
  readonly blame: Blame | null;
}

/** Partials looked at, and how far below the strongest force on the bridge one may lie (20 dB). */
const highestPartial = 6;
const weakest = 0.1;

/**
 * Wolf index of one note, as physics defines it here:
 *   max over partials s and body modes i of  2 g/|(w_s - w_i) + j (g_s - g_i)|,
 *   g = (w_s/(n pi)) sqrt(m/(2 M_i)),  g_s = w_s/(2 Q_s),  g_i = w_i/(2 Q_i)
 * over partials n <= 6 whose force on the bridge |sin(n pi x/L)|/n is within 20 dB of the strongest; x is the distance
 * from crown to pluck (m), m the mass of the sounding string, M_i the modal mass at the crown in the direction (across
 * the string) in which the mode moves it most, so 1/M_i = normal^2 + across^2. Partials above `maxFrequency` (Hz), where
 * the body is not known, are left out; at exact coincidence the value is K = (2/(n pi)) sqrt(2m/M)/|1/Q_i - 1/Q_s|.
 * See docs/coupling-threshold.md.
 */
export function wolfIndex(
  s: StretchedString,
  body: BridgeModes,
  pluckFromCrown: number,
  maxFrequency: number = Number.POSITIVE_INFINITY,
  strengths: Float64Array = inverseMasses(body),
): WolfRisk {
  const partials = stringPartials(s, highestPartial);
  const force = Array.from(
    { length: highestPartial },
    (_, i) => Math.abs(Math.sin(((i + 1) * Math.PI * pluckFromCrown) / s.length)) / (i + 1),
  );
  const least = weakest * Math.max(...force);
  const mass = s.linearDensity * s.length;
  let [strongest, worst, modeIndex] = [0, -1, -1];
  let partial = 0;
  for (let n = 1; n <= highestPartial; n++) {
    const w = partials.omega[n - 1]!;
    if (force[n - 1]! < least || w > 2 * Math.PI * maxFrequency) continue;
    const own = w * partials.lossFactor[n - 1]!;
    const factor = (w / n) ** 2;
    const { omega, q } = body;
    let listed = -1;
    for (let i = 0; i < omega.length; i++) {
      const wi = omega[i]!;
      if (wi === 0) continue;
      listed++;
      const gap = w - wi;
      const fall = 0.5 * (own - wi / q[i]!);
      const square = (factor * strengths[i]!) / (gap * gap + fall * fall);
      if (square > strongest) [strongest, worst, modeIndex, partial] = [square, i, listed, n];
    }
  }
  if (worst < 0) return { index: 0, blame: null };
  const w = partials.omega[partial - 1]!;
  const own = partials.lossFactor[partial - 1]!;
  const wi = body.omega[worst]!;
  const q = body.q[worst]!;
  const ratio = mass * strengths[worst]!;
  const g = (w / (partial * Math.PI)) * Math.sqrt(ratio / 2);
  return {
    index: (2 * g) / Math.hypot(w - wi, (w * own - wi / q) / 2),
    blame: {
      modeIndex,
      partial,
      centsOff: 1200 * Math.log2(w / wi),
      couplingAtCoincidence: couplingStrength(partial, ratio, q, 1 / own),
    },
  };
}

/** By mode: 1/M at the crown in the direction in which the mode moves it most; the size of the motion where it is complex. */
export function inverseMasses({ omega, shape, shapeIm }: BridgeModes): Float64Array {
  const out = new Float64Array(omega.length);
  for (let i = 0; i < out.length; i++) {
    const normal = shape[3 * i]!;
    const across = shape[3 * i + 1]!;
    const real = normal * normal + across * across;
    out[i] = shapeIm === undefined ? real : real + shapeIm[3 * i]! ** 2 + shapeIm[3 * i + 1]! ** 2;
  }
  return out;
}

/**
 * K = (2/(n pi)) sqrt(2 m/M)/|1/Q_body - 1/Q_string|: strength of the coupling of partial n with a body mode of the same
 * frequency. Below 1 the two keep one frequency and two decays; above it they split. Derived in
 * docs/coupling-threshold.md; reduces to the threshold of GOUGH-1981 as derived there for a lossless string.
 */
export function couplingStrength(n: number, massRatio: number, qBody: number, qString: number): number {
  return ((2 / (n * Math.PI)) * Math.sqrt(2 * massRatio)) / Math.abs(1 / qBody - 1 / qString);
}
