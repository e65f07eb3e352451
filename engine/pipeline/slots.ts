import { mirrorBoard } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { compensation } from "#engine/strings";
import { inUnit } from "#engine/units";
import type { InstrumentGeometry } from "./geometry.ts";
import { type Stamp, stamp } from "./stamp.ts";
import type { SetString } from "./stringSet.ts";

/** The JSON contract of `slots`: board frame, m; a left-handed board is the mirror image, string 1 still the highest. */
export interface SlotsReport {
  readonly strings: readonly {
    readonly string: number;
    readonly scaleLengthM: number;
    readonly frets: readonly { readonly fret: number; readonly nutToFretM: number }[];
    readonly nutOffsetM: number;
    readonly saddleOffsetM: number;
    /** What remains after the offsets, rms over the frets. */
    readonly errorRmsCents: number;
  }[];
  readonly slots: readonly {
    readonly fret: number;
    readonly bass: readonly [number, number];
    readonly treble: readonly [number, number];
    readonly angleDeg: number;
    readonly lengthM: number;
  }[];
  readonly validity: string;
  readonly stamp: Stamp;
}

/** Height of the open string over the plane of the fret crowns at the nut, m: common practice, no source. */
const nutHeight = 4e-4;

export const slotsValidity =
  "fret places are exact for the temperament; saddle offsets come from the published perturbation model, the string running on over its crowns, without relief, finger force or the " +
  "yielding of the bridge, and are worth whole cents; the nut is left where the scale puts it (offset 0) and the strings are taken 0.4 mm over the frets there; measured cents after stringing settle the last 0.3 mm";

export function slotsReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): SlotsReport {
  const layout =
    build.body.hand === "left" ? mirrorBoard(geometry.boardInOwnFrame) : geometry.boardInOwnFrame;
  return {
    strings: layout.strings.map((path, i) => {
      const { design, frequency } = strings[i]!;
      const fit = compensation(design, frequency, {
        scaleLength: path.scaleLength,
        fretDistance: path.fretDistance,
        action: build.strings[i]!.action,
        nutHeight,
      });
      return {
        string: path.string,
        scaleLengthM: path.scaleLength,
        frets: Array.from(path.fretDistance, (nutToFretM, fret) => ({ fret, nutToFretM })),
        nutOffsetM: fit.nutOffset,
        saddleOffsetM: fit.saddleOffset,
        errorRmsCents: fit.rmsCents,
      };
    }),
    slots: layout.slots.map((slot) => ({
      fret: slot.fret,
      bass: slot.bass,
      treble: slot.treble,
      angleDeg: inUnit(slot.angle, "deg"),
      lengthM: slot.length,
    })),
    validity: slotsValidity,
    stamp: stamp("slots", build, {}),
  };
}
