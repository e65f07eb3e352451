import { isDead, isWolf } from "#engine/notes";
import { honestAccuracy } from "#engine/verdicts";
import { modeSigma } from "./responseScale.ts";
import type { CompareSide } from "./viewTypes.ts";

/** A figure of two instruments side by side, in words. */
export interface FigureRow {
  readonly term: string;
  readonly a: string;
  readonly b: string;
  /** B less A with its range; null: one of the two is absent. */
  readonly difference: string | null;
  /** Whether the difference is larger than its range; null: no range is told. */
  readonly tells: boolean | null;
}

interface Figure {
  readonly term: string;
  readonly unit: string;
  readonly places: number;
  readonly of: (side: CompareSide) => number | null;
  /** One sigma of a figure of one instrument; null: none is told. */
  readonly sigma: (side: CompareSide) => number | null;
}

/** What a difference's range is of a figure's own, for the same wood: engineering judgement (docs/limits.md). */
const safer = 0.5;

/**
 * Figures of two voices and their difference (B less A). Of the same wood, a difference is about twice as safe as either figure;
 * where the woods differ only as safe as the two together.
 */
export function compareFigures(a: CompareSide, b: CompareSide, sameWood: boolean): readonly FigureRow[] {
  return figures.flatMap(({ term, unit, places, of, sigma }) => {
    const [va, vb] = [of(a), of(b)];
    if (va === null && vb === null) return [];
    const [sa, sb] = [sigma(a), sigma(b)];
    const range =
      sa === null || sb === null ? null : sameWood ? safer * Math.max(sa, sb) : Math.hypot(sa, sb);
    const say = (value: number | null, own: number | null) =>
      value === null
        ? "absent"
        : `${value.toFixed(places)}${own === null ? "" : ` ± ${ranged(own, places)}`}${unit}`;
    const step = va === null || vb === null ? null : vb - va;
    return [
      {
        term,
        a: say(va, sa),
        b: say(vb, sb),
        difference:
          step === null
            ? null
            : Number(step.toFixed(places)) === 0
              ? `none${range === null ? "" : ` ± ${ranged(range, places)}${unit}`}`
              : `${signed(step, places)}${range === null ? "" : ` ± ${ranged(range, places)}`}${unit}`,
        tells: step === null || range === null ? null : Math.abs(step) > range,
      },
    ];
  });
}

function named(name: string, side: CompareSide): number | null {
  return side.voice?.view.modes.find((mode) => mode.name === name)?.frequencyHz ?? null;
}

function namedSigma(name: string, { voice }: CompareSide): number | null {
  const index = voice?.view.modes.findIndex((mode) => mode.name === name) ?? -1;
  return voice === null || index < 0 ? null : modeSigma(voice.view, index);
}

const none = (): null => null;
const mode = (name: string, term: string): Figure => ({
  term,
  unit: " Hz",
  places: 0,
  of: (side) => named(name, side),
  sigma: (side) => namedSigma(name, side),
});

const figures: readonly Figure[] = [
  mode("main air", "Main air mode"),
  mode("main top", "Main top mode"),
  mode("main back", "Main back mode"),
  {
    term: "Spread of level over the board",
    unit: " dB",
    places: 1,
    of: ({ voice }) => voice?.board.evenness.levelSpreadDb ?? null,
    sigma: none,
  },
  {
    term: "Wolf notes",
    unit: "",
    places: 0,
    of: ({ voice }) => voice?.board.noteBoard.filter(isWolf).length ?? null,
    sigma: none,
  },
  {
    term: "Worst wolf index",
    unit: "",
    places: 1,
    of: ({ voice }) => (voice === null ? null : worst(voice.board.noteBoard.map((row) => row.wolfIndex))),
    sigma: none,
  },
  {
    term: "Dead notes",
    unit: "",
    places: 0,
    of: ({ voice }) => voice?.board.noteBoard.filter(isDead).length ?? null,
    sigma: none,
  },
  {
    term: "Pull of the strings",
    unit: " N",
    places: 0,
    of: ({ voice }) => voice?.view.load.totalN ?? null,
    sigma: ({ voice }) =>
      voice === null ? null : honestAccuracy(voice.view.knowledge).tension * voice.view.load.totalN,
  },
  {
    term: "Turn of the bridge under load",
    unit: "°",
    places: 2,
    of: ({ voice }) => degrees(voice?.view.load.bridgeRotation ?? null),
    sigma: ({ voice }) => {
      const turn = degrees(voice?.view.load.bridgeRotation ?? null);
      return voice === null || turn === null
        ? null
        : honestAccuracy(voice.view.knowledge).bridgeRotation * Math.abs(turn);
    },
  },
  {
    term: "Share of the top's upper third in the sound",
    unit: " %",
    places: 0,
    of: ({ voice }) => {
      const share = voice?.view.upperThirdShare ?? null;
      return share === null ? null : 100 * share;
    },
    sigma: none,
  },
  { term: "Mass", unit: " kg", places: 2, of: ({ massKg }) => massKg ?? null, sigma: none },
];

function worst(values: readonly (number | null)[]): number | null {
  const known = values.filter((v) => v !== null);
  return known.length === 0 ? null : Math.max(...known);
}

function degrees(radians: number | null): number | null {
  return radians === null ? null : (180 / Math.PI) * radians;
}

/** A range is never written as nothing. */
function ranged(sigma: number, places: number): string {
  const text = sigma.toFixed(places);
  return Number(text) === 0 ? `under ${(10 ** -places).toFixed(places)}` : text;
}

function signed(step: number, places: number): string {
  return `${step > 0 ? "+" : "−"}${Math.abs(step).toFixed(places)}`;
}
