/** The body mode that a string couples to most strongly, for the partial named. */
export interface Blame {
  /** Index into the body modes handed in (the order of `bodyModes` in the report). */
  readonly modeIndex: number;
  readonly partial: number;
  /** Partial over mode, cents: positive if the partial is the higher. */
  readonly centsOff: number;
  /** Coupling strength K that the pair would have at exact coincidence; 1 is the threshold. */
  readonly couplingAtCoincidence: number;
}

export interface PartialRow {
  readonly n: number;
  readonly polarisation: "normal" | "across";
  readonly frequencyHz: number;
  /** Null above the range in which the body is known, unless its mean mobility is. */
  readonly t60S: number | null;
  /** Given where the decay is that on the body's mean mobility: single notes scatter about it. */
  readonly statistical?: true;
}

export interface NoteRow {
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  /** Nominal, tempered. */
  readonly frequencyHz: number;
  readonly levelDb: number | null;
  readonly levelDbA: number | null;
  /** Half-width, dB, engineering judgement: 3, or 5 near a body resonance. */
  readonly levelRangeDb: number | null;
  readonly decayS: number | null;
  /** The decay lies between decayS over and decayS times this: 1.5, or 2 at a dead spot (engineering judgement). */
  readonly decayRangeFactor: number | null;
  readonly wolfIndex: number | null;
  readonly deadIndex: number | null;
  readonly verdict: "good" | "watch" | null;
  readonly blame: Blame | null;
  /** False if any figure of the row is absent because the model does not reach it; `reason` then says why. */
  readonly foreseen: boolean;
  readonly reason: string | null;
  readonly partials: readonly PartialRow[];
  /** 16th and 84th percentile from the spread of the uncertain values, where they were sampled. */
  readonly levelLowDb?: number | null;
  readonly levelHighDb?: number | null;
  readonly decayLowS?: number | null;
  readonly decayHighS?: number | null;
  readonly wolfLow?: number | null;
  readonly wolfHigh?: number | null;
}

export interface NoteBoard {
  /** Computed the quick way (see NoteBoardInput). */
  readonly quick: boolean;
  readonly noteBoard: readonly NoteRow[];
  readonly evenness: Evenness;
  readonly validToHz: number;
  readonly decayValidToHz: number;
}

export interface Evenness {
  /** 95th minus 5th percentile of levelDb over frets 0 to 15, all strings; null with fewer than two levels. */
  readonly levelSpreadDb: number | null;
  /** Notes that carried a level, and all notes of frets 0 to 15. */
  readonly notesCounted: number;
  readonly notesInRange: number;
  /** Worst first: level far from the middle, wolf or dead. */
  readonly worst: readonly WorstNote[];
}

export interface WorstNote {
  readonly string: number;
  readonly fret: number;
  readonly note: string;
  readonly why: "wolf" | "dead" | "loud" | "quiet";
  /** The index, or dB from the median level. */
  readonly figure: number;
}
