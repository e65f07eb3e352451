import type { Build, BuildClimate } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { BodyStress, GlueLine } from "#engine/shells";
import { type LoadConditions, type MarginRow, margins, type StressEntry } from "#engine/verdicts";
import { equilibriumMoisture, year } from "#engine/woods";
import type { PlateMeans } from "./meanStress.ts";
import { stressEntries } from "./stressEntries.ts";
import { speciesAt } from "./stressedParts.ts";

/** Stresses of the body in one state, and the plates' mean ones. */
export interface StressedBody {
  readonly stress: BodyStress;
  readonly means: PlateMeans;
}

/** For so long the strings pull, s. */
const stringYears = 50;
/**
 * A season, and a day in a hot car: what the air strains relaxes as fast as wood tires, and begins anew with each season, so that
 * its stress is not carried on for years.
 */
const season = year / 3;
const hotDay = 86400;

/**
 * Margins under the strings alone, for fifty years in the shop's air. `glueLine`: of the bridge, null where there is none. Fails
 * with 'out-of-range' where the air lies beyond the table of moisture.
 */
export function stringMargins(
  build: Build,
  { stress, means }: StressedBody,
  glueLine: GlueLine | null,
): Outcome<readonly MarginRow[]> {
  const conditions = conditionsIn(
    build.climate.shop,
    `strings at pitch, ${stringYears} years, shop air`,
    stringYears * year,
  );
  if (!conditions.ok) return conditions;
  const entries = [...stressEntries(build, stress, means), ...bridgeGlue(build, glueLine)];
  return done(margins(entries, conditions.value));
}

/** Margins with the strings in another air: for a season, or a day in a hot car. Fails as `stringMargins`. */
export function climateMargins(
  build: Build,
  name: string,
  air: BuildClimate,
  { stress, means }: StressedBody,
): Outcome<readonly MarginRow[]> {
  const hot = air === build.climate.hotCar;
  const conditions = conditionsIn(
    air,
    `strings at pitch, ${name}, ${hot ? "a day" : "four months"}`,
    hot ? hotDay : season,
  );
  return conditions.ok ? done(margins(stressEntries(build, stress, means), conditions.value)) : conditions;
}

function conditionsIn(air: BuildClimate, name: string, seconds: number): Outcome<LoadConditions> {
  const moisture = equilibriumMoisture(air.temperature, air.relativeHumidity);
  return moisture.ok
    ? done({ name, moisture: moisture.value, temperature: air.temperature, seconds })
    : moisture;
}

/** The bridge's glue: means by its statics are firm, its rear edge is a peak. */
function bridgeGlue(build: Build, line: GlueLine | null): readonly StressEntry[] {
  if (line === null) return [];
  const glued = {
    part: "bridge on the top",
    woods: [speciesAt(build, "bridge.wood"), speciesAt(build, "top.wood")],
    glue: build.bridge.glue,
  };
  const { shear, peel } = line;
  const at = ({ x, y }: { readonly x: number; readonly y: number }) => ({ x, y });
  const edge = { ...glued, part: "bridge on the top, rear edge", peak: true };
  return [
    { ...glued, kind: "glue-shear", stress: shear.mean, place: null, peak: false },
    {
      ...glued,
      kind: "glue-peel",
      stress: Math.max(0, peel.straight.value),
      place: at(peel.straight),
      peak: false,
    },
    { ...edge, kind: "glue-shear", stress: Math.abs(shear.edge.likely), place: at(shear.edge) },
    { ...edge, kind: "glue-peel", stress: Math.max(0, peel.edge.likely), place: at(peel.edge) },
  ];
}
