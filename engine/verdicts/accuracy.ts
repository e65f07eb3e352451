/** How well the wood of this guitar is known, worst first. */
export type Knowledge = "catalogue" | "board measured" | "box knocked";

/** One sigma of each figure against a real guitar. Ratios unless the name says otherwise. */
export interface HonestAccuracy {
  /** Relative, in frequency. */
  readonly mainTop: number;
  readonly mainAir: number;
  /** Relative, in frequency, any other mode to 500 Hz. */
  readonly otherMode: number;
  /** Multiply and divide by this. */
  readonly qFactor: number;
  /** dB, one note; near a resonance it is `noteLevelNearModeDb`. */
  readonly noteLevelDb: number;
  readonly noteLevelNearModeDb: number;
  readonly boardAverageDb: number;
  /** Multiply and divide by this. */
  readonly decayFactor: number;
  readonly tension: number;
  readonly bridgeRotation: number;
}

const frequencies: Readonly<
  Record<Knowledge, readonly [top: number, air: number, other: number, q: number]>
> = {
  catalogue: [0.1, 0.035, 0.1, 1.5],
  "board measured": [0.045, 0.025, 0.05, 1.4],
  "box knocked": [0.015, 0.01, 0.025, 1.15],
};

/**
 * What the model can honestly claim against a real guitar, one sigma: engineering judgement of the project's physics
 * page (docs/limits.md), the middle of each range given there. Not a fit to any measurement.
 */
export function honestAccuracy(knowledge: Knowledge): HonestAccuracy {
  const [mainTop, mainAir, otherMode, qFactor] = frequencies[knowledge];
  return {
    mainTop,
    mainAir,
    otherMode,
    qFactor,
    noteLevelDb: 3,
    noteLevelNearModeDb: 5,
    boardAverageDb: 1.5,
    decayFactor: 1.5,
    tension: 0.01,
    bridgeRotation: 0.2,
  };
}

/** One sigma of a body mode's frequency, relative, by the mode's name. */
export function frequencySigma(name: string | null, knowledge: Knowledge): number {
  const accuracy = honestAccuracy(knowledge);
  if (name === "main air") return accuracy.mainAir;
  return name === "main top" ? accuracy.mainTop : accuracy.otherMode;
}
