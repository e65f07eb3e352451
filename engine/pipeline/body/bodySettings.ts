import type { CavitySettings } from "../structure/boxAir.ts";

/** How finely the body is computed. Lengths in m, frequencies in Hz. */
export interface BodySettings {
  readonly meshSize: { readonly top: number; readonly back: number; readonly side: number };
  /** Modes of the structure in vacuo up to here take part; the rest by its static flexibility. */
  readonly toFrequency: number;
  readonly cavity: CavitySettings;
  readonly exteriorPanels: number;
  readonly exteriorFrequencies: number;
  readonly exteriorToHz: number;
}

/** About 8,500 shell nodes on a guitar of usual size; coupled modes are trusted to 0.8 of `toFrequency`, so to 1 kHz. */
export const defaultBodySettings: BodySettings = {
  meshSize: { top: 0.0082, back: 0.0082, side: 0.014 },
  toFrequency: 1250,
  cavity: { toFrequency: 2000, size: 0.05, layers: 4 },
  exteriorPanels: 700,
  exteriorFrequencies: 10,
  exteriorToHz: 1000,
};
