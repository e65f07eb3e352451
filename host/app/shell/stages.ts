/** The stages of the job whose organ is built, in the order of the work. */
export type StageId = "brief" | "outline" | "strings" | "neck" | "bracing" | "load" | "voice" | "setup";

/** What the desk computes. */
export type Organ = "sketch" | "strings" | "slots" | "neck" | "setup" | "load" | "voice";

export interface StageEntry {
  readonly id: StageId;
  readonly name: string;
  /** What the maker gets done here. */
  readonly task: string;
  /** Parts of the document that are decided here. */
  readonly sections: readonly string[];
  /** Verdicts that this stage answers for, by id. */
  readonly verdicts: readonly string[];
  /** Whose results it shows. */
  readonly organs: readonly Organ[];
  readonly views: readonly { readonly id: string; readonly name: string }[];
}

const placings = ["main-air-placing", "main-top-placing", "main-back-placing"] as const;

export const stages: readonly StageEntry[] = [
  {
    id: "brief",
    name: "Brief",
    task: "Agree what the player wants, and see what it implies.",
    sections: ["name", "brief", "hand", "targets", "climate", "log"],
    verdicts: [],
    organs: ["strings", "setup"],
    views: [{ id: "agreed", name: "What was agreed" }],
  },
  {
    id: "outline",
    name: "Outline",
    task: "A fair body, its cutaway, its hole and lip, its domes and sides.",
    sections: ["outline", "cutaway", "soundHole", "sides", "blocks"],
    verdicts: ["fairness"],
    organs: ["sketch", "voice"],
    views: [
      { id: "plan", name: "Plan" },
      { id: "side", name: "Side" },
      { id: "section", name: "Section" },
      { id: "figures", name: "Figures" },
    ],
  },
  {
    id: "strings",
    name: "Strings",
    task: "The set, its tunings, scale lengths, slots and offsets.",
    sections: ["strings", "fingerboard", "nut"],
    verdicts: ["string-strength", "slack", "total-load"],
    organs: ["strings", "slots"],
    views: [
      { id: "strings", name: "Strings" },
      { id: "frets", name: "Frets" },
    ],
  },
  {
    id: "neck",
    name: "Neck",
    task: "Joint, pitch, head, rods, and what is left of the wood.",
    sections: ["neck", "rods"],
    verdicts: ["neck-wood", "neck-relief", "rod-force", "string-path"],
    organs: ["neck"],
    views: [
      { id: "figures", name: "Under its strings" },
      { id: "side", name: "Side" },
    ],
  },
  {
    id: "bracing",
    name: "Bracing",
    task: "Lay out and size braces and plates; watch load and voice.",
    sections: ["top", "back", "bridge", "bridgePlate", "glue", "finish"],
    verdicts: ["bridge-rotation", "buckling", ...placings],
    organs: ["sketch", "voice"],
    views: [
      { id: "plan", name: "Plan" },
      { id: "section", name: "Section" },
      { id: "board", name: "Note board" },
    ],
  },
  {
    id: "load",
    name: "Load",
    task: "Carry the strings for decades, through winters and hot cars.",
    sections: ["bridge", "bridgePlate", "saddle", "rods", "glue", "climate"],
    verdicts: [
      "saddle-fit",
      "bridge-rotation",
      "breakage",
      "buckling",
      "action-rise",
      "creep",
      "climate",
      "hot-car",
    ],
    organs: ["load"],
    views: [
      { id: "figures", name: "Figures" },
      { id: "drawings", name: "Drawings" },
    ],
  },
  {
    id: "voice",
    name: "Voice",
    task: "Loud, even, sustaining, without wolf notes or dead spots.",
    sections: ["soundHole", "top", "back", "targets", "fittings"],
    verdicts: ["wolf-risk", "evenness", ...placings],
    organs: ["voice"],
    views: [
      { id: "board", name: "Note board" },
      { id: "response", name: "Response" },
      { id: "modes", name: "Body modes" },
      { id: "listen", name: "Listen" },
      { id: "compare", name: "Compare" },
    ],
  },
  {
    id: "setup",
    name: "Setup",
    task: "Action, relief, nut and saddle, every note even.",
    sections: ["setup", "saddle", "nut", "strings"],
    verdicts: ["action", "buzz", "saddle-height", "break-angle", "edge-margin", "saddle-slot", "reach"],
    organs: ["setup", "slots"],
    views: [
      { id: "action", name: "Action" },
      { id: "buzz", name: "Buzz" },
      { id: "intonation", name: "Intonation" },
    ],
  },
];

export function stageOf(id: StageId): StageEntry {
  return stages.find((stage) => stage.id === id)!;
}

/** Views that are the drawing itself. */
export const drawnViews: readonly string[] = ["plan", "side", "section"];
