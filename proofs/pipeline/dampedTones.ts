import { EigenvalueDecomposition, Matrix, SingularValueDecomposition, solve } from "ml-matrix";

/** A damped tone found in samples. */
export interface FoundTone {
  /** rad/s. */
  readonly omega: number;
  /** Decay rate of its amplitude, 1/s. */
  readonly decay: number;
}

/** Hz: half of the band that one fit passes whole, and about the rate that it is thinned to. */
const halfBand = 30;
const thinned = 200;
/** Singular values under this share of the largest are taken for the rounding of the samples and the leak of the filter. */
const noise = 1e-6;

/**
 * Damped tones within 30 Hz of `centre` (Hz), by a parametric fit that knows nothing of any model: the band passed by a finite filter
 * (which leaves an exponential an exponential), thinned until it fills one Nyquist zone, and the poles found by the matrix pencil of
 * a Hankel matrix whose rank its singular values tell. Source: HUA-SARKAR-1990.
 */
export function dampedTones(samples: Float32Array, rate: number, centre: number): FoundTone[] {
  // zone k runs from k to k + 1 times half the thinned rate; the centre is to lie in its middle
  const zone = Math.max(0, Math.round((2 * centre) / thinned - 0.5));
  const keep = Math.round((rate * (zone + 0.5)) / (2 * centre));
  const slow = rate / keep;
  const y = passedAndThinned(samples, rate, centre, keep);
  const n = y.length;
  const pencil = Math.floor(n / 3);
  const hankel = new Matrix(n - pencil, pencil + 1);
  for (let i = 0; i < n - pencil; i++) for (let j = 0; j <= pencil; j++) hankel.set(i, j, y[i + j]!);
  const svd = new SingularValueDecomposition(hankel, { computeLeftSingularVectors: false });
  const rank = svd.diagonal.filter((s) => s > noise * svd.diagonal[0]!).length;
  const v = svd.rightSingularVectors;
  // V without its last row, times the shift, is V without its first row
  const upper = v.subMatrix(0, pencil - 1, 0, rank - 1);
  const lower = v.subMatrix(1, pencil, 0, rank - 1);
  const shift = solve(upper.transpose().mmul(upper), upper.transpose().mmul(lower));
  const { realEigenvalues: re, imaginaryEigenvalues: im } = new EigenvalueDecomposition(shift);
  return re.flatMap((x, k) => {
    const turn = Math.atan2(im[k]!, x) / Math.PI;
    if (turn <= 0) return [];
    // odd zones run backwards
    const place = zone % 2 === 0 ? zone + turn : zone + 1 - turn;
    return [{ omega: place * Math.PI * slow, decay: -Math.log(Math.hypot(x, im[k]!)) * slow }];
  });
}

/** The band about `centre` passed (a Kaiser window of 100 dB), one sample in `keep` kept, the filter's ends left out. */
function passedAndThinned(samples: Float32Array, rate: number, centre: number, keep: number): Float64Array {
  const cut = thinned / 4;
  const slope = thinned / 2 - 2 * halfBand;
  const half = Math.round((92 * rate) / (2.285 * 2 * 2 * Math.PI * slope));
  const filter = Float64Array.from({ length: 2 * half + 1 }, (_, k) => {
    const i = k - half;
    const x = (2 * Math.PI * cut * i) / rate;
    const ideal = i === 0 ? (2 * cut) / rate : Math.sin(x) / (Math.PI * i);
    return (
      2 * ideal * bessel(10 * Math.sqrt(1 - (i / half) ** 2)) * Math.cos((2 * Math.PI * centre * i) / rate)
    );
  });
  const out: number[] = [];
  for (let at = half; at + half < samples.length; at += keep) {
    let sum = 0;
    for (let i = -half; i <= half; i++) sum += filter[i + half]! * samples[at + i]!;
    out.push(sum);
  }
  return Float64Array.from(out);
}

/** Modified Bessel function of the first kind and order zero, by its series. */
function bessel(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 60; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
