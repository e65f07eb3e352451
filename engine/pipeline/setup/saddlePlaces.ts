import { narrowestBand } from "#engine/geometry";
import type { Build, BuildTuning } from "#engine/instrument";
import { bestOffsets } from "#engine/strings";
import type { SlotFigures } from "#engine/verdicts";
import { frettingStrings } from "../frettingStrings.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";

/** Where one tuning wants the saddle's crowns, m behind the theoretical line, string 1 first; null where the string cannot be played. */
export interface SaddlePlaces {
  readonly offsets: readonly (number | null)[];
  /** Null with fewer than two strings that can be played. */
  readonly slot: SlotFigures | null;
}

/** Offsets with the nut on its line, and the straight bands that hold them across the board. */
export function saddlePlaces(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  tuning: BuildTuning,
): SaddlePlaces {
  const weights = [0, ...build.setup.weights];
  const offsets = frettingStrings(build, geometry, strings).map((s, i) => {
    const fit = bestOffsets([{ ...s, openFrequency: tuning.frequencies[i]! }], { nut: "zero", weights });
    return fit.ok ? fit.value[0]!.offsets.saddle : null;
  });
  const played = offsets.flatMap((back, i) =>
    back === null ? [] : [{ back, across: geometry.boardInOwnFrame.strings[i]!.saddle[1] }],
  );
  const [across, back] = [played.map((p) => p.across), played.map((p) => p.back)];
  const straight = narrowestBand(across, back, 0);
  const slanted = narrowestBand(across, back, null);
  if (!straight.ok || !slanted.ok) return { offsets, slot: null };
  return {
    offsets,
    slot: {
      width: build.saddle.width,
      scaleLength: strings.reduce((sum, s) => sum + s.scaleLength, 0) / strings.length,
      straight: { move: straight.value.middle, span: straight.value.width },
      slanted: {
        move: slanted.value.middle,
        span: slanted.value.width,
        slant: Math.atan(slanted.value.slope),
      },
    },
  };
}
