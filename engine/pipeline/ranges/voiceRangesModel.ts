/** Ranges of the voice: what the spread of each uncertain value and the model's own error do to each figure. */

/** One figure with its spread. Frequencies and Q in their own unit, levels in dB. */
export interface Range {
  /** Nominal value. */
  readonly value: number;
  /** 16th and 84th percentile from the uncertain values alone. */
  readonly low: number;
  readonly high: number;
  /** One sigma: of the uncertain values, of the model (engineering judgement of docs/limits.md), and both in quadrature. */
  readonly woodSigma: number;
  readonly modelSigma: number;
  readonly sigma: number;
}

export interface ModeRange {
  /** Index into bodyModes. */
  readonly index: number;
  readonly frequencyHz: Range;
  readonly q: Range;
}

export interface NoteRange {
  readonly string: number;
  readonly fret: number;
  readonly levelDb: Range | null;
  /** Of the decay in s; sigma of its logarithm would be a factor: here in s. */
  readonly decayS: Range | null;
  readonly wolfIndex: Range | null;
}

/** How much of the picture one measurement would clear up. */
export interface MeasurementWorth {
  /** Path in the document. */
  readonly path: string;
  readonly how: "measured" | "catalogue" | "assumed";
  /** Share of the variance that this value alone brings, averaged over the figures that count, 0 to 1. */
  readonly share: number;
  /** In words, with the path. */
  readonly words: string;
}

export interface VoiceRanges {
  readonly seed: number;
  /** Samples of modes and, fewer, of the note board. */
  readonly modeSamples: number;
  readonly boardSamples: number;
  readonly modes: readonly ModeRange[];
  readonly notes: readonly NoteRange[];
  readonly levelSpreadDb: Range | null;
  readonly bridgeRotation: Range | null;
  /** Worth measuring, most first. */
  readonly worth: readonly MeasurementWorth[];
  /** Values whose spread could not be carried through, with the reason. */
  readonly left: readonly { readonly path: string; readonly reason: string }[];
}

/** Range of the difference B minus A of two designs under shared samples. */
export interface DifferenceRanges {
  readonly shared: number;
  readonly figures: readonly { readonly name: string; readonly difference: Range }[];
}
