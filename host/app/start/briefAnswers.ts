/** What is asked of a maker who begins from a brief, and what may be answered. */
export interface BriefAnswers {
  readonly client: string;
  readonly wishes: string;
  readonly style: "fingers" | "pick" | "both";
  readonly tuning: TuningId;
  readonly size: "small" | "middle" | "large";
  readonly reach: "small" | "usual" | "wide";
  readonly hole: "middle" | "edge";
  readonly hand: "right" | "left";
}

export type TuningId = "e-standard" | "e-drop-d" | "open-d" | "d-standard" | "c-standard";

export const plainAnswers: BriefAnswers = {
  client: "",
  wishes: "",
  style: "fingers",
  tuning: "e-standard",
  size: "middle",
  reach: "usual",
  hole: "middle",
  hand: "right",
};

export interface BriefTuning {
  readonly name: string;
  /** String 1, the highest, first. */
  readonly notes: readonly string[];
  /** Played on the same set besides. */
  readonly also: readonly { readonly name: string; readonly notes: readonly string[] }[];
}

const eStandard = ["E4", "B3", "G3", "D3", "A2", "E2"];

export const briefTunings: Readonly<Record<TuningId, BriefTuning>> = {
  "e-standard": { name: "E standard", notes: eStandard, also: [] },
  "e-drop-d": {
    name: "E standard",
    notes: eStandard,
    also: [{ name: "drop D", notes: ["E4", "B3", "G3", "D3", "A2", "D2"] }],
  },
  "open-d": { name: "open D", notes: ["D4", "A3", "F#3", "D3", "A2", "D2"], also: [] },
  "d-standard": { name: "D standard", notes: ["D4", "A3", "F3", "C3", "G2", "D2"], also: [] },
  "c-standard": { name: "C standard", notes: ["C4", "G3", "D#3", "A#2", "F2", "C2"], also: [] },
};

interface Choice<Id extends string> {
  readonly id: Id;
  readonly label: string;
}

export const styleChoices: readonly Choice<BriefAnswers["style"]>[] = [
  { id: "fingers", label: "Fingers" },
  { id: "both", label: "Both" },
  { id: "pick", label: "Flat pick" },
];

export const tuningChoices: readonly Choice<TuningId>[] = [
  { id: "e-standard", label: "E standard, down to E2" },
  { id: "e-drop-d", label: "E standard, and drop D at times" },
  { id: "open-d", label: "open D, down to D2" },
  { id: "d-standard", label: "D standard, a whole tone low" },
  { id: "c-standard", label: "C standard, two whole tones low" },
];

export const sizeChoices: readonly Choice<BriefAnswers["size"]>[] = [
  { id: "small", label: "Small" },
  { id: "middle", label: "Middle" },
  { id: "large", label: "Large" },
];

export const reachChoices: readonly Choice<BriefAnswers["reach"]>[] = [
  { id: "small", label: "A small hand" },
  { id: "usual", label: "Usual" },
  { id: "wide", label: "Wants room" },
];

export const holeChoices: readonly Choice<BriefAnswers["hole"]>[] = [
  { id: "middle", label: "Round, in the middle" },
  { id: "edge", label: "At the edge of the upper bout" },
];

export const handChoices: readonly Choice<BriefAnswers["hand"]>[] = [
  { id: "right", label: "Right" },
  { id: "left", label: "Left" },
];
