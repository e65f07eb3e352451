import type { How } from "#engine/instrument";
import type { FigureKind, SampledFigure, VoiceSamples } from "./voiceSamples.ts";

/** One figure with its spread, in its own unit. */
export interface Range {
  readonly kind: FigureKind;
  readonly of: string;
  /** Nominal. */
  readonly value: number;
  /** 16th and 84th percentile under the samples of the uncertain values alone. */
  readonly low: number;
  readonly high: number;
  /** One sigma: half the way from low to high; of the model itself (engineering judgement); both in quadrature. */
  readonly woodSigma: number;
  readonly modelSigma: number;
  readonly sigma: number;
}

/** How much of the picture one measurement would clear up. */
export interface MeasurementWorth {
  /** Path in the document. */
  readonly path: string;
  readonly how: How;
  /** Share of the variance of the modes' frequencies that this value alone brings, the modes counting alike; 0 to 1. */
  readonly share: number;
  /** In words, with the path. */
  readonly words: string;
}

export interface VoiceRanges {
  readonly seed: number;
  readonly modeSamples: number;
  readonly boardSamples: number;
  readonly ranges: readonly Range[];
  /** Most first. */
  readonly worth: readonly MeasurementWorth[];
  /** Paths of uncertain values that the model does not follow: their spread is in no range. */
  readonly left: readonly string[];
}

/** Modes up to here make the picture that a measurement may narrow, Hz: where single modes are foreseen at all. */
const pictureToHz = 500;

/** Ranges of every sampled figure, and which measurement would narrow them most. */
export function voiceRanges(samples: VoiceSamples): VoiceRanges {
  return {
    seed: samples.seed,
    modeSamples: samples.modeSamples,
    boardSamples: samples.boardSamples,
    ranges: samples.figures.map(rangeOf),
    worth: measurementWorth(samples),
    left: samples.left,
  };
}

/** The difference B - A of a figure that two designs have, under the samples they share. */
export interface DifferenceRange {
  readonly kind: FigureKind;
  readonly of: string;
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly woodSigma: number;
  /** Half of the larger model sigma of the two: differences within one model are about twice as safe (docs/limits.md). */
  readonly modelSigma: number;
  readonly sigma: number;
}

/**
 * Differences B - A of all figures both have. Meaningful where both were sampled with one seed: equal values of both then
 * moved together. Throws nothing: without a common figure the list is empty.
 */
export function differenceRanges(a: VoiceSamples, b: VoiceSamples): readonly DifferenceRange[] {
  const known = new Map(a.figures.map((f) => [`${f.kind} ${f.of}`, f]));
  return b.figures.flatMap((fb): DifferenceRange[] => {
    const fa = known.get(`${fb.kind} ${fb.of}`);
    if (fa === undefined) return [];
    const count = Math.min(fa.samples.length, fb.samples.length);
    const moved = Float64Array.from({ length: count }, (_, s) => fb.samples[s]! - fa.samples[s]!);
    const [low, high] = spreadOf(moved);
    const woodSigma = (high - low) / 2;
    const modelSigma = Math.max(fa.modelSigma, fb.modelSigma) / 2;
    return [
      {
        kind: fb.kind,
        of: fb.of,
        difference: fb.value - fa.value,
        low,
        high,
        woodSigma,
        modelSigma,
        sigma: Math.hypot(woodSigma, modelSigma),
      },
    ];
  });
}

function rangeOf({ kind, of, value, modelSigma, samples }: SampledFigure): Range {
  const [low, high] = spreadOf(samples);
  const woodSigma = (high - low) / 2;
  return { kind, of, value, low, high, woodSigma, modelSigma, sigma: Math.hypot(woodSigma, modelSigma) };
}

/** 16th and 84th percentile, linear between ranks; samples without the figure left out. */
function spreadOf(samples: Float64Array): readonly [low: number, high: number] {
  const sorted = samples.filter((v) => !Number.isNaN(v)).sort();
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const below = Math.floor(place);
    const [p, q] = [sorted[below]!, sorted[Math.min(below + 1, sorted.length - 1)]!];
    return p + (place - below) * (q - p);
  };
  return sorted.length === 0 ? [Number.NaN, Number.NaN] : [at(0.16), at(0.84)];
}

/** Shares of the variance by the exact sensitivities: each mode's shares add up to one, and modes count alike. */
function measurementWorth(s: VoiceSamples): MeasurementWorth[] {
  const share = new Float64Array(s.followed.length);
  let counted = 0;
  for (let i = 0; i < s.modes && s.modeFrequency[i]! <= pictureToHz; i++) {
    const variance = s.followed.map(
      ({ value, spread }, p) => ((s.sensitivity[p * s.modes + i]! * spread) / value) ** 2,
    );
    const whole = variance.reduce((a, b) => a + b, 0);
    if (!(whole > 0)) continue;
    counted++;
    variance.forEach((v, p) => {
      share[p]! += v / whole;
    });
  }
  return s.followed
    .map(({ path, how, value, spread }, p) => {
      const part = counted === 0 ? 0 : share[p]! / counted;
      const known = `${how}, within ${percent(spread / Math.abs(value))}`;
      return {
        path,
        how,
        share: part,
        words: `Known exactly, ${path} (now ${known}) would take ${percent(part)} of the variance out of the modes' frequencies up to ${pictureToHz} Hz.`,
      };
    })
    .filter(({ share: part }) => part > 0)
    .sort((a, b) => b.share - a.share);
}

function percent(x: number): string {
  return `${(100 * x).toFixed(x < 0.1 ? 1 : 0)} %`;
}
