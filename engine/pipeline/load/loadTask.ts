import type { Build, BuildClimate } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import type { ClimateChange, GlueLineSpec } from "#engine/shells";
import { tension } from "#engine/strings";
import { catalogueWood, equilibriumMoisture } from "#engine/woods";
import { loadInput } from "../body/stringLoad.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { boardLine } from "../structure/neckBeam.ts";
import type { LoadTask } from "./bodyLoad.ts";
import { speciesAt } from "./stressedParts.ts";

/** The fret over which the action is told. */
const actionFret = 12;

/** Film of a close wood joint and its moduli (an animal or casein glue, dry): from memory; the film hardly gives. */
const film = { thickness: 1e-4, E: 3e9, G: 1.1e9 } as const;
/** ET / ER where the species is not known: about the mean of the Wood Handbook's table 5-1. */
const throughShare = 0.55;

/** A climate that the document names, and the change of its woods against the shop's. */
export interface ClimateRow {
  readonly name: string;
  readonly air: BuildClimate;
  /** Moisture content of wood in balance with the air: in the shop, there. */
  readonly moisture: readonly [shop: number, there: number];
  readonly change: ClimateChange;
}

/** Winter home, damp summer and hot car against the shop. Fails with 'out-of-range' where the air lies beyond the table. */
export function climateRows({ climate }: Build): Outcome<readonly ClimateRow[]> {
  const shop = equilibriumMoisture(climate.shop.temperature, climate.shop.relativeHumidity);
  if (!shop.ok) return shop;
  const rows: ClimateRow[] = [];
  for (const [name, air] of [
    ["winter home", climate.homeDry],
    ["damp summer", climate.homeDamp],
    ["hot car", climate.hotCar],
  ] as const) {
    const there = equilibriumMoisture(air.temperature, air.relativeHumidity);
    if (!there.ok) return there;
    rows.push({
      name,
      air,
      moisture: [shop.value, there.value],
      change: {
        moisture: there.value - shop.value,
        temperature: air.temperature - climate.shop.temperature,
      },
    });
  }
  return done(rows);
}

/** What the body is asked: strings of all tunings, climates, the bridge's glue line. Fails as `climateRows` does. */
export function loadTask(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): Outcome<LoadTask> {
  const climates = climateRows(build);
  if (!climates.ok) return climates;
  return done({
    load: loadInput(build, geometry, strings),
    frets: fretCrowns(build, geometry),
    tunings: build.tunings.slice(1).map(({ frequencies }) => tuningTensions(strings, frequencies)),
    climates: climates.value.map(({ change }) => change),
    glue: glueSpec(build),
  });
}

/** Tensions (N) of the same strings at other pitches. */
export function tuningTensions(strings: readonly SetString[], frequencies: readonly number[]): number[] {
  return strings.map((s, i) => tension(s.design.linearDensity, s.scaleLength, frequencies[i]!));
}

/** Crown of the fret under each string, on the board's straight line. */
function fretCrowns(build: Build, geometry: InstrumentGeometry): LoadTask["frets"] {
  const { from, to } = boardLine(build, geometry);
  return build.strings.map(({ nut, direction, scaleLength }) => {
    const fromNut = scaleLength * (1 - 2 ** (-actionFret / 12));
    const [x, y] = [nut[0] - direction[0] * fromNut, nut[1] - direction[1] * fromNut];
    const z = from[2] + ((to[2] - from[2]) * (x - from[0])) / (to[0] - from[0]) + build.neck.fretHeight;
    return [x, y, z];
  });
}

function glueSpec(build: Build): GlueLineSpec {
  const through = (path: string, across: number): number => {
    const species = speciesAt(build, path);
    const record = species === null ? undefined : catalogueWood(species)?.record;
    return across * (record === undefined ? throughShare : record.ET.value / record.ER.value);
  };
  return {
    polygon: build.bridge.polygon,
    patches: build.bridge.patches.map((_, k) => k),
    land: build.bridge.glueLand,
    film,
    through: {
      top: through("top.wood", build.top.wood.ER),
      bridge: through("bridge.wood", build.bridge.wood.ER),
    },
  };
}
