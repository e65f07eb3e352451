/** What the document says of tunings, nut, board details and setup, in SI. */
import type { Point } from "#engine/geometry";

/** A value that the document leaves open and that was taken as is usual: common practice, no source, unless `because` says more. */
export interface AssumedValue {
  /** Where the document may say otherwise, "nut.width". */
  readonly path: string;
  /** What was taken, in words and with its unit. */
  readonly value: string;
  readonly because: string;
}

/** Open notes of all strings, string 1 (the highest) first. */
export interface BuildTuning {
  /** Place in the document: "strings.set", "strings.tunings[0]". */
  readonly documentPath: string;
  readonly name: string;
  readonly notes: readonly string[];
  /** Tempered, at the document's tuning reference, Hz. */
  readonly frequencies: readonly number[];
}

export interface BuildNut {
  readonly material: string;
  /** Along the string. */
  readonly width: number;
  /** Undersides of the lowest and the highest string over the plane of the fret crowns, carried on to the nut line. */
  readonly clearanceBass: number;
  readonly clearanceTreble: number;
}

/** What neck, strings and layout do not hold of the board: its cross curve, its end, its slots. */
export interface BuildFingerboard {
  /** Cross radius at the nut and at the last fret; null for a flat board. */
  readonly radius: { readonly nut: number; readonly end: number } | null;
  /** Straight fall from the plane of the board beyond a fret (any number), `depth` at the board's end. */
  readonly fallAway: { readonly fromFret: number; readonly depth: number } | null;
  /** Width of the fret's bead along the string. */
  readonly fretWidth: number;
  readonly slot: BuildSlot;
}

export interface BuildSlot {
  /** Of the cut. */
  readonly width: number;
  readonly depth: number;
  readonly tangWidth: number;
  readonly tangDepth: number;
  /** How much the tang is cut short at each end. */
  readonly nip: number;
  /** Fret beyond the board's edge at each end; negative: short of it. */
  readonly overhang: number;
}

export interface BuildHead {
  readonly angle: number;
  /** With its veneer. */
  readonly thickness: number;
  readonly length: number;
  /** Depth of an inlay's pocket from the face; null without one. */
  readonly inlayDepth: number | null;
  /** 0 without one. */
  readonly faceVeneer: number;
  /** Where each string meets its post: from the nut line along the head, and from the centreline towards the bass side; string 1 first. */
  readonly posts: readonly Point[];
  /** False where the posts were placed as is usual. */
  readonly postsStated: boolean;
}

/** A bar let into the neck. */
export interface BuildNeckRod {
  readonly kind: "adjustable" | "carbon" | "steel";
  readonly width: number;
  readonly height: number;
  readonly length: number;
  /** Its middle under the underside of the board. */
  readonly axisDepth: number;
  /** Force in an adjustable rod when it is tight, N; null where none is stated. */
  readonly tension: number | null;
}

export interface MeasuredCents {
  readonly documentPath: string;
  readonly string: number;
  /** 0 is the open string. */
  readonly fret: number;
  /** Sharp above zero. */
  readonly cents: number;
  /** One standard deviation, cents. */
  readonly spread: number;
  readonly how: string;
}

export interface BuildSetup {
  /** Largest displacement at the plucking place. */
  readonly pluck: { readonly soft: number; readonly normal: number; readonly hard: number };
  readonly finger: {
    /** Middle of the finger behind the fret's crown: `share` of the way to the next crown back, at most `most`. */
    readonly behind: { readonly kind: "share"; readonly share: number; readonly most: number };
    /** String under the line of the crowns there. */
    readonly depth: number;
  };
  readonly measured: readonly MeasuredCents[];
  /** How much each fret counts when offsets are chosen; index 0 is fret 1. */
  readonly weights: readonly number[];
}

/** Glues under a bridge that strength is known for. */
export type BridgeGlue = "hide" | "fish" | "aliphatic" | "pva" | "epoxy";
