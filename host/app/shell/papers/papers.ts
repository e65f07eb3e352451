export type Paper = "keepsakes" | "history" | "aside" | "backups" | "bringIn" | "putAway" | "tablet" | "keys";

/** What the menu of papers offers; "list" goes back to the list of instruments. */
export const papers = [
  { id: "keepsakes", label: "Keepsakes", detail: "name this state, or go back to a named one" },
  { id: "history", label: "History", detail: "every change, with its time and cause" },
  { id: "aside", label: "Set aside", detail: "states kept when two pages changed the same" },
  { id: "bringIn", label: "Take out and bring in", detail: "one file with everything" },
  { id: "backups", label: "Backups", detail: "copies of the whole store, tried when made" },
  { id: "tablet", label: "A tablet at the workbench", detail: "pair one in the shop's own network" },
  { id: "putAway", label: "Put away", detail: "off the list, never lost" },
  { id: "list", label: "All instruments" },
] as const;
