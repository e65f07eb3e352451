import { type BodyPlan, polygonCentroid } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome } from "#engine/numerics";
import {
  type BodySystem,
  loadedSystem,
  type ModesTask,
  type StringLoadFigures,
  type StringPull,
  stringLoadFigures,
  strungBody,
} from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { stringEnds } from "../structure/bodyShell.ts";
import { onTop } from "./listeners.ts";

/** All strings at pitch as they pull on the body, and where the answer is read. Plain data. */
export interface LoadInput {
  readonly pulls: readonly StringPull[];
  /** The bridge's footprint in plan. */
  readonly footprint: Float64Array;
  readonly saddle: { readonly x: number; readonly y: number; readonly height: number };
  readonly nut: readonly [number, number, number];
  readonly block: string;
}

export interface StringLoad {
  readonly figures: StringLoadFigures;
  /** Rise of each node of the top's mesh, m. */
  readonly topRise: Float64Array;
  /** |K x - b| / |b| of the solution. */
  readonly residual: number;
}

/**
 * Couple (N m) of all pulls about the middle of the bridge's footprint on the top's mid-surface, about +y: what turns the
 * bridge toward the nut.
 */
export function bridgeCouple(load: LoadInput, build: Build, plan: BodyPlan): number {
  const [cx, cy] = polygonCentroid(load.footprint);
  const [, , cz] = onTop(build, plan, cx, cy);
  return load.pulls.reduce((sum, { crown, nut, tension }) => {
    const [x, y, z] = onTop(build, plan, crown.x, crown.y);
    const d = [nut[0] - x, nut[1] - y, nut[2] - z - crown.height] as const;
    const pull = tension / Math.hypot(...d);
    return sum + pull * ((z + crown.height - cz) * d[0] - (x - cx) * d[2]);
  }, 0);
}

export function loadInput(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): LoadInput {
  const [a, b] = build.bridge.saddleLine;
  const ends = stringEnds(build, geometry);
  const nuts = ends.map(({ nut }) => nut.at);
  const middle = [0, 1, 2].map((k) => nuts.reduce((sum, nut) => sum + nut[k]!, 0) / nuts.length);
  return {
    pulls: ends.map(({ nut, crown }, i) => ({ crown, nut: nut.at, tension: strings[i]!.tension })),
    footprint: build.bridge.polygon,
    saddle: { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, height: 0 },
    nut: [middle[0]!, middle[1]!, middle[2]!],
    block: "neck block",
  };
}

/** The joined body with the stiffness it has under its strings, and what they do to it. */
export interface StrungSystem {
  /** K with the geometric stiffness of the load in it. */
  readonly system: BodySystem;
  readonly load: StringLoad;
}

/**
 * Static answer of the whole body, free in space, to the strings at pitch (a load in equilibrium with itself), and the stiffness
 * that the forces in it add or take away. `analysis`: of the body's matrices, where it is at hand.
 */
export function strungSystem(
  bare: BodySystem,
  load: LoadInput,
  ctx: Context,
  analysis?: ModesTask["analysis"],
): Outcome<StrungSystem> {
  const strung = strungBody(bare, load.pulls, load.footprint, ctx, analysis);
  if (!strung.ok) return strung;
  const { solution } = strung.value;
  const figures = stringLoadFigures(bare, solution, load);
  if (!figures.ok) return figures;
  const { topNode } = bare.mesh;
  return done({
    system: loadedSystem(bare, strung.value),
    load: {
      figures: figures.value,
      topRise: Float64Array.from(topNode, (node) => solution.motion[6 * node + 2]!),
      residual: solution.residual,
    },
  });
}
