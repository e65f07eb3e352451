import { type Context, done, type Outcome } from "#engine/numerics";
import {
  actionChanges,
  type BodyAnswer,
  type BodyMesh,
  type BodyPiece,
  type BodyShellSpec,
  type BodyStress,
  type BodySystem,
  type BucklePlace,
  bodyBuckling,
  bodyGauge,
  bodyStrains,
  bodyStress,
  bodyStressMaps,
  bucklePlace,
  type ClimateChange,
  type GlueLine,
  type GlueLineSpec,
  glueLine,
  grownBody,
  growthLoad,
  joinedSystem,
  type StringLoadFigures,
  stringLoadFigures,
  strungUnder,
  summedAnswers,
  tuningLoad,
  unitAnswers,
} from "#engine/shells";
import { refusedPart } from "../body/refusedPart.ts";
import type { LoadInput, StringLoad } from "../body/stringLoad.ts";

type Triple = readonly [x: number, y: number, z: number];

/** What the body is asked beyond its answer to the strings. Plain data. */
export interface LoadTask {
  readonly load: LoadInput;
  /** Crown of the fret under each string over which the action is told. */
  readonly frets: readonly Triple[];
  /** Tensions of further tunings, N by string. */
  readonly tunings: readonly (readonly number[])[];
  readonly climates: readonly ClimateChange[];
  readonly glue: GlueLineSpec;
}

export interface BodyLoadInput extends LoadTask {
  readonly spec: BodyShellSpec;
  readonly mesh: BodyMesh;
  readonly plates: readonly BodyPiece[];
}

/** How the body moves under one set of strings or in one climate. */
export interface LoadFigures {
  readonly figures: StringLoadFigures;
  /** Change of the string's height over its fret, m by string. */
  readonly action: Float64Array;
}

/** Stresses of the plates' own wood, 6 by node of their meshes (plateStressMap): for margins and drawings. */
export type StressMaps = ReturnType<typeof bodyStressMaps>;

export interface BodyLoadAnswer {
  readonly load: StringLoad;
  readonly action: Float64Array;
  readonly buckling: number | null;
  readonly bucklePlace: BucklePlace | null;
  readonly stress: BodyStress;
  /** Null where the bridge has no edge on the top. */
  readonly glueLine: GlueLine | null;
  readonly tunings: readonly LoadFigures[];
  /** Figures of the change of climate alone; stresses with the strings. */
  readonly climates: readonly (LoadFigures & {
    readonly stress: BodyStress;
    readonly maps: StressMaps;
  })[];
  readonly maps: StressMaps;
  /** All motions under the strings (bodyModel.ts), and the layout that names them: for drawings. */
  readonly motion: Float64Array;
  readonly layout: BodySystem["layout"];
}

/** Figures of one answer. Fails as `pointRows` does and with 'no-top'. */
function figuresOf(system: BodySystem, answer: BodyAnswer, { load, frets }: LoadTask): Outcome<LoadFigures> {
  const figures = stringLoadFigures(system, answer, load);
  if (!figures.ok) return figures;
  const action = actionChanges(system, answer, load.pulls, frets);
  return action.ok ? done({ figures: figures.value, action: action.value }) : action;
}

/**
 * The strung body, free in space, under its strings one by one (so that every tuning is a sum) and under the growth of its woods:
 * figures, stresses, glue line of the bridge, buckling. One factorisation for all but the buckling.
 */
export function bodyLoad(input: BodyLoadInput, ctx: Context): Outcome<BodyLoadAnswer> {
  const { load, tunings, climates } = input;
  const joined = joinedSystem(input.spec, input.mesh, input.plates);
  if (!joined.ok) return joined;
  const system = joined.value;
  const grown = climates.map((change) => bodyGauge(grownBody(system, change)));
  const units = unitAnswers(
    system,
    load.pulls,
    load.footprint,
    grown.map((gauge) => [{ kind: "rows", rows: growthLoad(gauge) }]),
    ctx,
  );
  if (!units.ok) return refusedPart(units, system, false);
  ctx.progress(0.4);
  const { strings, further } = units.value;
  const atPitch = tuningLoad(
    strings,
    load.pulls.map((pull) => pull.tension),
  );
  const own = figuresOf(system, atPitch, input);
  if (!own.ok) return own;
  const others: LoadFigures[] = [];
  for (const tensions of tunings) {
    const one = figuresOf(system, tuningLoad(strings, tensions), input);
    if (!one.ok) return one;
    others.push(one.value);
  }
  const weathers: BodyLoadAnswer["climates"][number][] = [];
  for (const [k, answer] of further.entries()) {
    const one = figuresOf(system, answer, input);
    if (!one.ok) return one;
    const { motion } = summedAnswers([atPitch, answer], [1, 1]);
    const strains = bodyStrains(grown[k]!, motion);
    weathers.push({
      ...one.value,
      stress: bodyStress(grown[k]!, motion, strains),
      maps: bodyStressMaps(grown[k]!, strains),
    });
  }
  ctx.progress(0.6);
  const gauge = bodyGauge(system);
  const strains = bodyStrains(gauge, atPitch.motion);
  const strung = strungUnder(system, load.pulls, atPitch);
  if (!strung.ok) return strung;
  const found = refusedPart(
    bodyBuckling(system, strung.value.geometric, strung.value.strings, 1, ctx),
    system,
    false,
  );
  if (!found.ok) return found;
  const factor = found.value.factors[0] ?? null;
  return done({
    load: {
      figures: own.value.figures,
      topRise: Float64Array.from(system.mesh.topNode, (node) => atPitch.motion[6 * node + 2]!),
      residual: atPitch.residual,
    },
    action: own.value.action,
    buckling: factor,
    bucklePlace: factor === null ? null : bucklePlace(system, found.value.shapes.subarray(0, system.n)),
    stress: bodyStress(gauge, atPitch.motion, strains),
    glueLine:
      gauge.top === null || strains.top === null
        ? null
        : glueLine(system, gauge.top, strains.top, load.pulls, input.glue),
    tunings: others,
    climates: weathers,
    maps: bodyStressMaps(gauge, strains),
    motion: atPitch.motion,
    layout: system.layout,
  });
}

/** The same body's figures alone: for tables of variants. */
export function bodyFigures(input: BodyLoadInput, ctx: Context): Outcome<LoadFigures> {
  const { load } = input;
  const joined = joinedSystem(input.spec, input.mesh, input.plates);
  if (!joined.ok) return joined;
  const units = unitAnswers(joined.value, load.pulls, load.footprint, [], ctx);
  if (!units.ok) return refusedPart(units, joined.value, false);
  return figuresOf(
    joined.value,
    tuningLoad(
      units.value.strings,
      load.pulls.map((pull) => pull.tension),
    ),
    input,
  );
}
