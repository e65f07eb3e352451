import type { Point } from "#engine/geometry";
import type { Setting } from "./settings.ts";
import type { View } from "./sheetLayout.ts";
import type { SnapTarget } from "./snap.ts";

/** What can be taken hold of on the sheet: where it is, what it is called, what moving it sets. */
export interface Handle {
  /** "top.braces[2].from". */
  readonly id: string;
  readonly view: View | "profile";
  /** (x, y) of the plan, (x, z) of the side, (y, z) of the section, (s, h) along a brace, m. */
  readonly at: Point;
  /** A brace's end, the middle of something, a weight on the batten, a turn, a height. */
  readonly look: "end" | "whole" | "weight" | "turn" | "height";
  /** "ray 3, hub end". */
  readonly name: string;
  /** Which of the two coordinates the hand moves. */
  readonly free: readonly [boolean, boolean];
  readonly targets: readonly SnapTarget[];
  /** What the document shall say when the handle lies at a place; `alone`: on this side of the body only. */
  readonly moved: (to: Point, alone: boolean) => readonly Setting[];
  /** Figures that can be typed instead, the handle's own first. */
  readonly entries: readonly Entry[];
  /** Brace, or part of the shape, that this belongs to: "top.braces[2]", "outline". */
  readonly owner: string;
  /** Heights and the like go by finer steps. */
  readonly fine?: boolean;
  /** Why it stays where it is, or what else is to be known of it. */
  readonly note?: string;
  /** A weight of a batten: taken off, what the document shall say. */
  readonly takenOff?: () => readonly Setting[];
}

/** A figure that can be typed at a handle. */
export interface Entry {
  readonly id: string;
  readonly label: string;
  readonly kind: "length" | "angle";
  readonly value: number;
  readonly set: (value: number, alone: boolean) => readonly Setting[];
}

/** "4 mm towards the tail, 2 mm towards the bass side": a move of the plan in the shop's directions; null: none. */
export function wayWords(from: Point, to: Point, say: (length: number) => string): string | null {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  // less than this is no move a rule can show, m
  const least = 5e-5;
  const parts = [
    ...(Math.abs(dx) < least ? [] : [`${say(Math.abs(dx))} towards the ${dx > 0 ? "neck" : "tail"}`]),
    ...(Math.abs(dy) < least ? [] : [`${say(Math.abs(dy))} towards the ${dy > 0 ? "bass" : "treble"} side`]),
  ];
  return parts.length === 0 ? null : parts.join(", ");
}
