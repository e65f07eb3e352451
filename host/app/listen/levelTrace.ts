/** How loud a rendering is from moment to moment. */
export interface LevelTrace {
  /** s between two points. */
  readonly step: number;
  /** dB re the loudest moment of all traces made together; -Infinity: silence. */
  readonly levelDb: Float64Array;
}

const step = 0.025;

/** Levels over spans of 25 ms, all on one scale, so that two sides can be held against each other. */
export function levelTraces(sides: readonly Float32Array[], rate: number): readonly LevelTrace[] {
  const span = Math.max(1, Math.round(step * rate));
  const squares = sides.map((samples) => {
    const out = new Float64Array(Math.floor(samples.length / span));
    for (let k = 0; k < out.length; k++) {
      let sum = 0;
      for (let i = k * span; i < (k + 1) * span; i++) sum += samples[i]! ** 2;
      out[k] = sum / span;
    }
    return out;
  });
  const loudest = Math.max(0, ...squares.map((own) => own.reduce((most, x) => Math.max(most, x), 0)));
  return squares.map((own) => ({
    step: span / rate,
    levelDb: own.map((x) => (loudest > 0 ? 10 * Math.log10(x / loudest) : Number.NEGATIVE_INFINITY)),
  }));
}
