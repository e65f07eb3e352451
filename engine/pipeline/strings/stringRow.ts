import type { Build } from "#engine/instrument";
import {
  feel,
  inharmonicity,
  type MakeableString,
  makeableStrings,
  nearestThatWorks,
  noteName,
  type StringDesign,
  stretched,
  stringPartials,
  stringState,
  type Touch,
  tension,
} from "#engine/strings";
import type { SetString } from "../stringSet.ts";
import { type ConstructionRow, constructionRow } from "./constructionRow.ts";

/** What works instead of a string that would break or hang slack; null where nothing does. */
export interface NearestRow {
  readonly note: string | null;
  readonly scaleLengthM: number | null;
  readonly construction: ConstructionRow | null;
}

/** One string at one note. */
export interface TunedRow {
  readonly string: number;
  readonly note: string;
  readonly frequencyHz: number;
  readonly tensionN: number;
  readonly breakMargin: number;
  /** Sideways force at the plucking place over how far it draws the string there, stretch of the string counted. */
  readonly feelNPerM: number;
  readonly inharmonicityB: number;
  readonly state: "holds" | "breaks" | "slack";
  readonly nearest: NearestRow | null;
}

/** What a string is, whatever it is tuned to. */
export interface StringRow extends TunedRow {
  readonly scaleLengthM: number;
  readonly construction: ConstructionRow;
  readonly diameterM: number;
  readonly linearDensityKgPerM: number;
  readonly weightFrom: "given" | "construction";
  readonly breakingForceN: number;
  readonly axialStiffnessN: number;
  readonly bendingStiffnessNm2: number;
  /** One standard deviation over the value. */
  readonly spread: StringDesign["spread"];
  readonly loss: LossRow;
}

/** Losses of the string alone, between rigid ends. */
interface LossRow {
  readonly friction: number;
  readonly bending: number;
  /** rad/s. */
  readonly air: number;
  /** Partials 1, 5, 10 and 20 of the open string. */
  readonly partials: readonly {
    readonly partial: number;
    readonly frequencyHz: number;
    readonly q: number;
    readonly t60S: number;
  }[];
}

const shownPartials = [1, 5, 10, 20];

/** Where and how far the strings of a build are felt: its plucking place (120 mm where none is told), a normal pluck. */
export function touchOf(build: Build): Touch {
  return { place: build.pluckPlace ?? 0.12, displacement: build.setup.pluck.normal };
}

/** What a build's strings could be made as: wrapped like its own wound ones, plain up to its heaviest plain one, 0.020 inch at least. */
export function makeableFor(build: Build): readonly MakeableString[] {
  const own = build.strings.map(({ construction }) => construction);
  const wound = own.find((c) => c.kind === "wound");
  return makeableStrings({
    wrap: wound?.wraps.at(-1)?.material ?? "phosphor-bronze",
    coreShape: wound?.coreShape ?? "hex",
    heaviestPlain: Math.max(usualHeaviestPlain, ...own.map((c) => (c.kind === "plain" ? c.diameter : 0))),
  });
}

/** 0.020 inch: the third string of a steel set on an acoustic guitar is wound (common practice, no source). */
const usualHeaviestPlain = 0.02 * 0.0254;

/** A string of the set at a note of `frequency`. */
export function tunedRow(
  build: Build,
  { string, scaleLength, design }: SetString,
  note: string,
  frequency: number,
  makeable: readonly MakeableString[],
): TunedRow {
  const pull = tension(design.linearDensity, scaleLength, frequency);
  const place = { string, scaleLength, frequency };
  const nearest = nearestThatWorks(design, place, makeable, build.tuningReference);
  return {
    string,
    note,
    frequencyHz: frequency,
    tensionN: pull,
    breakMargin: design.breakingForce / pull,
    feelNPerM: feel(design, pull, scaleLength, touchOf(build)),
    inharmonicityB: inharmonicity(design.bendingStiffness, pull, scaleLength),
    state: stringState(design, pull),
    nearest:
      nearest === null
        ? null
        : {
            note: nearest.note === null ? null : noteName(nearest.note),
            scaleLengthM: nearest.scaleLength,
            construction: nearest.string === null ? null : constructionRow(nearest.string.construction),
          },
  };
}

/** The whole row of a string. */
export function stringRow(build: Build, s: SetString, tuned: TunedRow): StringRow {
  const { design, scaleLength } = s;
  const own = build.strings[s.string - 1]!;
  const { omega, lossFactor } = stringPartials(
    stretched(design, scaleLength, tuned.frequencyHz),
    shownPartials.at(-1)!,
  );
  return {
    ...tuned,
    scaleLengthM: scaleLength,
    construction: constructionRow(own.construction),
    diameterM: design.diameter,
    linearDensityKgPerM: design.linearDensity,
    weightFrom: own.givenLinearDensity === null ? "construction" : "given",
    breakingForceN: design.breakingForce,
    axialStiffnessN: design.axialStiffness,
    bendingStiffnessNm2: design.bendingStiffness,
    spread: design.spread,
    loss: {
      ...design.loss,
      partials: shownPartials.map((partial) => {
        const [w, eta] = [omega[partial - 1]!, lossFactor[partial - 1]!];
        return {
          partial,
          frequencyHz: w / (2 * Math.PI),
          q: 1 / eta,
          t60S: (2 * Math.log(1000)) / (w * eta),
        };
      }),
    },
  };
}
