import type { NoteFigure } from "./viewTypes.ts";

/** The figures of a note that a board's ink can say. */
export const figureOptions: readonly { readonly id: NoteFigure; readonly label: string }[] = [
  { id: "level", label: "Level" },
  { id: "decay", label: "Decay" },
  { id: "wolf", label: "Wolf index" },
  { id: "dead", label: "Dead index" },
];
