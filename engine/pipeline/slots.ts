import { mirrorBoard } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import type { Outcome } from "#engine/numerics";
import {
  bestOffsets,
  type FittedOffsets,
  type FrettingString,
  fitMeasured,
  type OffsetWishes,
  sensitivityToAction,
} from "#engine/strings";
import { inUnit } from "#engine/units";
import { frettingStrings } from "./frettingStrings.ts";
import type { InstrumentGeometry } from "./geometry.ts";
import { type CutsReport, cutsReport } from "./slotCuts.ts";
import { type Stamp, stamp } from "./stamp.ts";
import type { SetString } from "./stringSet.ts";
import { type TuningIntonation, tuningIntonation } from "./tuningIntonation.ts";

/** The JSON contract of `slots`: board frame, m; a left-handed board is the mirror image, string 1 still the highest. */
export interface SlotsReport {
  readonly strings: readonly StringSlots[];
  readonly slots: readonly {
    readonly fret: number;
    readonly bass: readonly [number, number];
    readonly treble: readonly [number, number];
    readonly angleDeg: number;
    readonly lengthM: number;
  }[];
  /** What the cards of slots, frets and bridge are drawn from; null where `cutsRefused` says why frets cannot be cut so. */
  readonly cuts: CutsReport | null;
  readonly cutsRefused: Refusal | null;
  /** The document's further tunings, played on the offsets above. */
  readonly otherTunings: readonly TuningIntonation[];
  /** How far the action is raised over fret 12 in each string's `actionRaised`. */
  readonly actionRaiseM: number;
  readonly validity: string;
  readonly stamp: Stamp;
}

/** Offsets and figures are null where `refused` says why the string cannot be played so. */
export interface StringSlots {
  readonly string: number;
  readonly scaleLengthM: number;
  /** `cents`: what remains on each fret with the offsets below, sharp above zero. */
  readonly frets: readonly {
    readonly fret: number;
    readonly nutToFretM: number;
    readonly cents: number | null;
  }[];
  readonly nutOffsetM: number | null;
  readonly saddleOffsetM: number | null;
  /** How deep the finger is taken to press below the line of the crowns. */
  readonly fingerDepthM: number;
  /** What remains after the offsets, weighted rms over the frets. */
  readonly errorRmsCents: number | null;
  readonly refused: Refusal | null;
  /** Offsets when the nut may move too: each string's own place, or one place for all. */
  readonly ownNut: OffsetFigures | null;
  readonly sharedNut: OffsetFigures | null;
  /** The action raised: change on each fret with the crowns where they are (index 0: open), and the offsets it would want. */
  readonly actionRaised: (OffsetFigures & { readonly centsChange: readonly number[] }) | null;
  /** From the maker's measured cents, the crowns taken to stand at the offsets above; null without readings. */
  readonly measured: MeasuredFigures | null;
}

interface Refusal {
  readonly reason: string;
  readonly detail: string;
}

interface OffsetFigures {
  readonly nutOffsetM: number;
  readonly saddleOffsetM: number;
  readonly errorRmsCents: number;
}

/** The re-cut moves the saddle's crown back by `moveM` (towards the nut below zero); low to high is two standard deviations either way. */
interface MeasuredFigures {
  readonly refused: Refusal | null;
  readonly recut: { readonly moveM: number; readonly lowM: number; readonly highM: number } | null;
  /** SI values with one standard deviation, before and after; `determined` is false where the readings say little. */
  readonly values: readonly {
    readonly name: string;
    readonly value: number;
    readonly spread: number;
    readonly priorValue: number;
    readonly priorSpread: number;
    readonly determined: boolean;
  }[];
  readonly warnings: readonly string[];
}

/** m. */
const actionRaise = 5e-4;

export const slotsValidity =
  "fret places are exact for the temperament; cents and offsets come from the string at rest on nut, frets, finger and saddle, stretched between nut and saddle, which hold it; the finger is a point, " +
  "as far behind and as deep as the setup says, and is worth 2 to 5 cents; bridge and neck do not yield to the added pull; offsets hold to about 0.5 mm and cents to 2 (1 after measured cents); " +
  "the nut is left where the scale puts it unless a column says otherwise";

export function slotsReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): SlotsReport {
  const layout =
    build.body.hand === "left" ? mirrorBoard(geometry.boardInOwnFrame) : geometry.boardInOwnFrame;
  // index 0 is the open string, which is tuned true and counts for nothing
  const weights = [0, ...build.setup.weights];
  const over = frettingStrings(build, geometry, strings);
  const fits = over.map((s) => onlyOne(bestOffsets([s], { nut: "zero", weights })));
  const shared = sharedNut(over, fits, weights);
  const cuts = cutsReport(build, geometry);
  return {
    strings: layout.strings.map((path, i) => {
      const fit = fits[i]!;
      return {
        string: path.string,
        scaleLengthM: path.scaleLength,
        frets: Array.from(path.fretDistance, (nutToFretM, fret) => ({
          fret,
          nutToFretM,
          cents: fit.ok ? fit.value.cents[fret]! : null,
        })),
        fingerDepthM: over[i]!.finger.depth,
        nutOffsetM: fit.ok ? fit.value.offsets.nut : null,
        saddleOffsetM: fit.ok ? fit.value.offsets.saddle : null,
        errorRmsCents: fit.ok ? fit.value.rmsCents : null,
        refused: fit.ok ? null : { reason: fit.reason, detail: fit.detail },
        ...(fit.ok
          ? choices(build, over[i]!, fit.value, weights)
          : { ownNut: null, actionRaised: null, measured: null }),
        sharedNut: shared.get(path.string) ?? null,
      };
    }),
    slots: layout.slots.map((slot) => ({
      fret: slot.fret,
      bass: slot.bass,
      treble: slot.treble,
      angleDeg: inUnit(slot.angle, "deg"),
      lengthM: slot.length,
    })),
    cuts: cuts.ok ? cuts.value : null,
    cutsRefused: cuts.ok ? null : { reason: cuts.reason, detail: cuts.detail },
    otherTunings: build.tunings.slice(1).map((tuning) => tuningIntonation(tuning, over, fits, weights)),
    actionRaiseM: actionRaise,
    validity: slotsValidity,
    stamp: stamp("slots", build, {}),
  };
}

/** The first of an outcome's list. */
function onlyOne<T>(outcome: Outcome<readonly T[]>): Outcome<T> {
  return outcome.ok ? { ...outcome, value: outcome.value[0]! } : outcome;
}

function figures({ offsets, rmsCents }: FittedOffsets): OffsetFigures {
  return { nutOffsetM: offsets.nut, saddleOffsetM: offsets.saddle, errorRmsCents: rmsCents };
}

/** One nut offset for all strings that can be played; by string number. */
function sharedNut(
  over: readonly FrettingString[],
  fits: readonly Outcome<FittedOffsets>[],
  weights: OffsetWishes["weights"],
): ReadonlyMap<number, OffsetFigures> {
  const playable = over.filter((_, i) => fits[i]!.ok);
  const from = fits.flatMap((fit) => (fit.ok ? [fit.value.offsets] : []));
  const fit = bestOffsets(playable, { nut: "shared", from, ...(weights === undefined ? {} : { weights }) });
  return new Map(fit.ok ? fit.value.map((f) => [f.string, figures(f)]) : []);
}

function choices(
  build: Build,
  s: FrettingString,
  fit: FittedOffsets,
  weights: readonly number[],
): Pick<StringSlots, "ownNut" | "actionRaised" | "measured"> {
  const own = onlyOne(bestOffsets([s], { nut: "each", weights, from: [fit.offsets] }));
  const raised = onlyOne(sensitivityToAction([s], [fit], { nut: "zero", weights }, actionRaise));
  const readings = build.setup.measured
    .filter((m) => m.string === s.string)
    .map((m) => ({ fret: m.fret, cents: m.cents, spreadCents: m.spread }));
  return {
    ownNut: own.ok ? figures(own.value) : null,
    actionRaised: raised.ok
      ? { ...figures(raised.value.refitted), centsChange: Array.from(raised.value.centsChange) }
      : null,
    measured: readings.length === 0 ? null : measuredFigures(s, fit, readings, weights),
  };
}

function measuredFigures(
  s: FrettingString,
  fit: FittedOffsets,
  readings: Parameters<typeof fitMeasured>[2],
  weights: readonly number[],
): MeasuredFigures {
  const found = fitMeasured(s, fit.offsets, readings, {}, weights);
  if (!found.ok)
    return { refused: { reason: found.reason, detail: found.detail }, recut: null, values: [], warnings: [] };
  const { move, low, high } = found.value.recut;
  return {
    refused: null,
    recut: { moveM: move, lowM: low, highM: high },
    values: found.value.values,
    warnings: found.warnings.map((w) => w.detail),
  };
}
