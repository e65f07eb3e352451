/** How loud a rendering may become, dB re full scale (a sample of 1). */
interface LoudnessLimits {
  /** Pa: the pressure that a sample of 1 stands for, unless the limits ask for less gain. */
  readonly fullScale: number;
  /** No sample goes above this. */
  readonly peakDb: number;
  /** Nor the root mean square over any `window` (s) above this. */
  readonly rmsDb: number;
  readonly window: number;
}

/** Engineering judgement: a chord at 1 N a string stays under it, and the ears are spared whatever the volume of the device. */
export const loudnessLimits: LoudnessLimits = { fullScale: 1, peakDb: -3, rmsDb: -15, window: 0.3 };

interface CommonGain {
  /** 1/Pa: what every rendering of the comparison is to be multiplied by. */
  readonly gain: number;
  /** dB that the limits took off the gain of `fullScale`; 0: nothing. */
  readonly reducedDb: number;
}

/**
 * One gain for all renderings of a comparison, never one for each, or the difference between them would be lost: that of a fixed pressure at
 * full scale, or the most that keeps the loudest of them within the limits.
 */
export function commonGain(
  renderings: readonly Float32Array[],
  rate: number,
  limits: LoudnessLimits = loudnessLimits,
): CommonGain {
  const asked = 1 / limits.fullScale;
  let gain = asked;
  for (const samples of renderings) {
    const { peak, rms } = loudest(samples, Math.max(1, Math.round(limits.window * rate)));
    if (peak > 0) gain = Math.min(gain, 10 ** (limits.peakDb / 20) / peak);
    if (rms > 0) gain = Math.min(gain, 10 ** (limits.rmsDb / 20) / rms);
  }
  return { gain, reducedDb: 20 * Math.log10(asked / gain) };
}

/** Largest sample, and largest root mean square over `span` samples that follow each other (over all where there are fewer). */
export function loudest(
  samples: Float32Array,
  span: number,
): { readonly peak: number; readonly rms: number } {
  let peak = 0;
  let sum = 0;
  let most = 0;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!;
    peak = Math.max(peak, Math.abs(x));
    sum += x * x;
    if (i >= span) sum -= samples[i - span]! ** 2;
    most = Math.max(most, sum);
  }
  return { peak, rms: Math.sqrt(most / Math.max(1, Math.min(span, samples.length))) };
}
