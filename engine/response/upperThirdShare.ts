import { type Complex, complexDivide, complexMultiply } from "#engine/numerics";
import type { BodyResponse } from "./bodyResponse.ts";

/** Where the top moves under the strings: 0 to 1. */
export interface ThirdShare {
  /** 80 Hz to 1 kHz. */
  readonly total: number;
  /** In third-octave bands (base ten, IEC 61260), the first and last cut at 80 Hz and 1 kHz. */
  readonly byThirdOctave: readonly { readonly centreHz: number; readonly share: number }[];
}

const FROM = 80;
const TO = 1000;
const CENTRES = [80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000];

/**
 * For 1 N rms along the normal at each crown in turn, white over the band: integral of |v_n|^2 over the upper third of the
 * top over the same for the whole top, the crowns' cases added. With v_n = sum_i phi_i(x) s_i H_i(w),
 *   integral = sum_ij G_ij (sum over crowns of s_i s_j) Re integral H_i H_j* dw,
 * G the products of motions by third. H_i has two poles, so the last integral is a closed form of logarithms: no frequency
 * grid, nothing to converge. The rigid motions take part; the residual compliance, whose shape is a dimple at the
 * bridge, does not. Shapes
 * are taken as real.
 */
export function upperThirdShare(body: BodyResponse): ThirdShare {
  const weight = crownWeights(body);
  const share = (from: number, to: number) => {
    const [upper, whole] = bandIntegrals(body, weight, 2 * Math.PI * from, 2 * Math.PI * to);
    return upper / whole;
  };
  return {
    total: share(FROM, TO),
    byThirdOctave: CENTRES.map((centreHz, k) => {
      // Exact mid-band frequency 10^(n/10), n = 19 at 80 Hz.
      const exact = 10 ** ((19 + k) / 10);
      const edge = 10 ** (1 / 20);
      return { centreHz, share: share(Math.max(FROM, exact / edge), Math.min(TO, exact * edge)) };
    }),
  };
}

/** m x m: sum over the crowns of the product of two motions along the normal. */
function crownWeights(body: BodyResponse): Float64Array {
  const size = 3 * body.strings.length;
  const m = body.rigidCount + body.count;
  const normal = (i: number, c: number) =>
    i < body.rigidCount
      ? body.rigidCrownShape[i * size + 3 * c]
      : body.crownShape[(i - body.rigidCount) * size + 3 * c];
  const out = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let c = 0; c < size / 3; c++) sum += normal(i, c) * normal(j, c);
      out[i * m + j] = out[j * m + i] = sum;
    }
  }
  return out;
}

/** One pole of H: amplitude / (w - pole), and the integral of 1/(w - pole) over the band. */
interface Pole {
  readonly amplitude: Complex;
  readonly at: Complex;
  readonly log: Complex;
}

function bandIntegrals(
  body: BodyResponse,
  weight: Float64Array,
  w1: number,
  w2: number,
): readonly [number, number] {
  const m = body.rigidCount + body.count;
  const poles = Array.from({ length: m }, (_, i) => polesOf(body, i, w1, w2));
  let upper = 0;
  let whole = 0;
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const both = (i === j ? 1 : 2) * weight[i * m + j] * crossIntegral(poles[i], poles[j], w1, w2);
      const g = (third: number) => body.motionByThird[(third * m + i) * m + j];
      upper += both * g(0);
      whole += both * (g(0) + g(1) + g(2));
    }
  }
  return [upper, whole];
}

/**
 * H = i w/(p - w^2) = A/(w - P) + A/(w + P),  p = P^2,  P = wi (1 + i/2q),  A = -i/2; a rigid motion: -i/w.
 */
function polesOf(body: BodyResponse, i: number, w1: number, w2: number): Pole[] {
  if (i < body.rigidCount) return [pole({ re: 0, im: -1 }, { re: 0, im: 0 }, w1, w2)];
  const wi = 2 * Math.PI * body.frequency[i - body.rigidCount];
  const g = wi / (2 * body.q[i - body.rigidCount]);
  const half = { re: 0, im: -0.5 };
  return [pole(half, { re: wi, im: g }, w1, w2), pole(half, { re: -wi, im: -g }, w1, w2)];
}

function pole(amplitude: Complex, at: Complex, w1: number, w2: number): Pole {
  // The phase of w - pole turns the short way, as Im(pole) keeps its sign: principal values are continuous.
  const log = {
    re: Math.log(Math.hypot(w2 - at.re, at.im) / Math.hypot(w1 - at.re, at.im)),
    im: Math.atan2(-at.im, w2 - at.re) - Math.atan2(-at.im, w1 - at.re),
  };
  return { amplitude, at, log };
}

/** Re integral of H_i H_j* over the band, from 1/((w - a)(w - b*)) = [1/(w - a) - 1/(w - b*)] / (a - b*). */
function crossIntegral(one: readonly Pole[], two: readonly Pole[], w1: number, w2: number): number {
  let sum = 0;
  for (const a of one) {
    for (const b of two) {
      const apart = { re: a.at.re - b.at.re, im: a.at.im + b.at.im };
      const factor = complexMultiply(a.amplitude, { re: b.amplitude.re, im: -b.amplitude.im });
      // Two rigid motions share the pole 0.
      const integral =
        apart.re === 0 && apart.im === 0
          ? { re: 1 / w1 - 1 / w2, im: 0 }
          : complexDivide({ re: a.log.re - b.log.re, im: a.log.im + b.log.im }, apart);
      sum += factor.re * integral.re - factor.im * integral.im;
    }
  }
  return sum;
}
