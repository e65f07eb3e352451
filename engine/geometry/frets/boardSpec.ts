/** What a maker states about strings, scales and fingerboard, in SI. */

/** Where frets stand: equal temperament, or one row of cents above the open string for fret 1, 2, 3, … */
export type Temperament =
  | { readonly kind: "equal" }
  | { readonly kind: "cents"; readonly cents: readonly number[] };

/** Inner strings between the outer ones: equal distances of centres, or equal gaps from edge to edge. */
export interface StringSpacing {
  readonly nut: "centres" | "gaps";
  readonly saddle: "centres" | "gaps";
  /** Outer diameters, m, string 1 (the highest) first. */
  readonly diameters: readonly number[];
}

export interface BoardSpec {
  readonly strings: number;
  /** Nut to saddle along the lowest string, m (before compensation). */
  readonly bassScale: number;
  /** Nut to saddle along the highest string, m. */
  readonly trebleScale: number;
  /** The fret (any real number, 0 = the nut, negative before it) that stands square to the centreline. No matter if the scales are equal. */
  readonly squareFret: number;
  readonly frets: number;
  /** Board width at the nut's middle and at its end, square to the centreline, m. */
  readonly nutWidth: number;
  readonly endWidth: number;
  /** Where the end width is measured: from the nut's middle along the centreline, m; null: at the last fret. */
  readonly endStation: number | null;
  /** Outer string to outer string, square to the centreline, m. */
  readonly stringSpreadNut: number;
  readonly stringSpreadSaddle: number;
  readonly temperament?: Temperament;
  /** What is equal from string to string; centres if absent. Gaps need the diameters. */
  readonly spacing?: StringSpacing;
}
