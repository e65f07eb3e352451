import { create } from "zustand";
import type { LaidBatten, Point } from "#engine/geometry";
import type { BattenShape } from "./battenTalk.ts";
import type { Handle } from "./handle.ts";
import type { Setting } from "./settings.ts";
import type { Face } from "./sheetLayout.ts";
import type { SheetView } from "./sheetView.ts";
import type { SnapTarget } from "./snap.ts";

/** What the hand works on: only its handles are shown. */
export type Subject = "braces" | "outline" | "hole" | "cutaway" | "box";

/** What the hand has moved and the document does not say yet. */
export interface Draft {
  readonly handle: Handle;
  readonly to: Point;
  readonly settings: readonly Setting[];
  /** What it came to rest on. */
  readonly target: SnapTarget | null;
  /** held: under the hand; sent: let go; taken: in the document, until the sketch of it is there. */
  readonly stage: "held" | "sent" | "taken";
}

/** Weights of a batten laid along a curve, and how far it lies off at most. */
export interface Laid extends LaidBatten {
  /** They are the maker's own, of the edit just made: its curve is not to be laid anew. */
  readonly kept: boolean;
}

export interface Plan {
  readonly subject: Subject;
  readonly face: Face;
  /** Brace that is chosen: "top.braces[2]". */
  readonly chosen: string | null;
  /** Handle whose figures can be typed. */
  readonly entry: string | null;
  readonly view: SheetView | null;
  /** Where the section across is cut, m from the tail. */
  readonly station: number | null;
  readonly draft: Draft | null;
  /** The curve of the draft, solved: of the draft itself or of a place of the hand shortly before. */
  readonly bent: Exclude<BattenShape, { kind: "laid" }> | null;
  readonly laid: { readonly outline: Laid | null; readonly soundHole: Laid | null };
  /** One side of the outline alone. */
  readonly alone: boolean;
  readonly snapping: boolean;
  readonly dimensions: boolean;
  /** Drawn at its real size; by `pxPerMm` of this screen. */
  readonly pxPerMm: number;
  /** What the last deed at a handle met with, in words: a refusal, or that there is nothing to move. */
  readonly refusal: { readonly handle: string; readonly words: string } | null;
  /** What is told once, politely: what was done. */
  readonly told: string;
}

/** A screen's own figure until a ruler has been held to it: CSS px per mm. */
const nominal = 96 / 25.4;
const calibrationKey = "fairbout-px-per-mm";

function keptCalibration(): number {
  const kept = typeof localStorage === "undefined" ? null : localStorage.getItem(calibrationKey);
  const value = Number(kept);
  return kept !== null && value > 1 && value < 20 ? value : nominal;
}

export function keepCalibration(pxPerMm: number): void {
  localStorage.setItem(calibrationKey, String(pxPerMm));
  usePlan.setState({ pxPerMm });
}

export const usePlan = create<Plan>()(() => ({
  subject: "braces",
  face: "front",
  chosen: null,
  entry: null,
  view: null,
  station: null,
  draft: null,
  bent: null,
  laid: { outline: null, soundHole: null },
  alone: false,
  snapping: true,
  dimensions: false,
  pxPerMm: keptCalibration(),
  refusal: null,
  told: "",
}));
