import { inMillimetres } from "#engine/instrument";
import type { Fault } from "./answer.ts";

/** Where in the document a refusal of the engine belongs, and what would mend it. */
const places: Readonly<Record<string, { readonly path: string; readonly remedy?: string }>> = {
  buckled: { path: "strings", remedy: "Lighter strings, or a stiffer top, braces and sides." },
  "block-outside": { path: "blocks", remedy: "Move the block into the body." },
  "block-touches-nothing": { path: "blocks", remedy: "Move the block to a plate or to the side." },
  "side-too-thick": { path: "sides.thickness", remedy: "Take a thinner side, or open the bend." },
  "loose-part": { path: "", remedy: "Let the part reach a block, a plate or the side." },
  "rigid-motions": { path: "", remedy: "Look at the size and the stiffness of that part." },
  singular: { path: "", remedy: "Look at the size, stiffness and density of that part." },
  "not-positive-definite": { path: "", remedy: "Look at the size, stiffness and density of that part." },
  "bad-material": { path: "" },
};

/**
 * What the engine refused, for the maker: its place, in millimetres, with a remedy. What no document should bring about is
 * said to be doubtful on both sides.
 */
export function engineFault({ reason, detail }: { readonly reason: string; readonly detail: string }): Fault {
  const text = inMillimetres(detail);
  const message = `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  const place = places[reason];
  if (place !== undefined) return { ...place, message };
  if (reason === "cancelled") return { path: "", message: "The work was called off; nothing was written." };
  return {
    path: "",
    message: `This body could not be computed (${reason}): ${text}.`,
    remedy:
      "Look for a part of an odd size or stiffness; if there is none, the fault is the program's: keep the document and report it.",
  };
}
