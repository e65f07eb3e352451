/** A part of the document as the job meets it. */
export interface Chapter {
  readonly name: string;
  /** Keys of the document's first level. */
  readonly sections: readonly string[];
}

/** Every section of the document, in the order of the work. */
export const chapters: readonly Chapter[] = [
  { name: "Brief", sections: ["name", "brief", "hand"] },
  { name: "Outline", sections: ["outline", "cutaway", "soundHole"] },
  { name: "Strings", sections: ["strings"] },
  { name: "Neck", sections: ["neck"] },
  { name: "Fingerboard and nut", sections: ["fingerboard", "nut"] },
  { name: "Top and its braces", sections: ["top"] },
  { name: "Back and its braces", sections: ["back"] },
  { name: "Sides, blocks and rods", sections: ["sides", "blocks", "rods"] },
  { name: "Bridge and saddle", sections: ["bridge", "bridgePlate", "saddle"] },
  { name: "Finish and glues", sections: ["finish", "glue"] },
  { name: "Fittings", sections: ["fittings"] },
  { name: "Climate", sections: ["climate"] },
  { name: "Setup", sections: ["setup"] },
  { name: "Targets", sections: ["targets", "meant"] },
  { name: "Log", sections: ["log"] },
  { name: "The file itself", sections: ["format", "$schema"] },
];
