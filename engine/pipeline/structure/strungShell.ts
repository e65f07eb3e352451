import type { Build } from "#engine/instrument";
import type { BodyShellSpec } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { bodyShell } from "./bodyShell.ts";

/** The finished instrument's structure. */
export function strungShell(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): BodyShellSpec {
  return bodyShell(build, geometry, strings, "strung");
}
