import type { CavityModes } from "#engine/air";
import type { Build } from "#engine/instrument";
import { type Context, done, type Outcome } from "#engine/numerics";
import { type OuterAir, prepareCoupling, type StructureModes, type StructureParts } from "#engine/response";
import { type NominalModes, type PointRef, type ReducedBody, solveReduced } from "#engine/shells";
import { cavityAir } from "../body/airParts.ts";
import type { BodySettings } from "../body/bodySettings.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import { stringEnds } from "../structure/bodyShell.ts";
import type { LiveModel } from "./liveModel.ts";
import { loadFigures } from "./loadFigures.ts";

/** What reduced models of one voice have in common. */
export interface LiveBase {
  readonly settings: BodySettings;
  /** What the voice coupled. */
  readonly parts: StructureParts;
  readonly nominal: NominalModes;
  readonly modes: ReducedBody["modes"];
  /** By mode: its sign in what the voice coupled. */
  readonly signs: Float64Array;
  readonly cavity: CavityModes | null;
}

/** Where the body is listened to: under the crowns of its strings, then at its nuts. */
export function crownsAndNuts(build: Build, geometry: InstrumentGeometry): readonly PointRef[] {
  const ends = stringEnds(build, geometry);
  return [...ends.map(({ crown }) => ({ ...crown, height: 0 })), ...ends.map(({ nut }) => nut)];
}

/** The part of a live model that follows from its columns: all of them coupled with the air. Fails as the coupling does. */
export function coupledColumns(
  base: LiveBase,
  { model, columns, figures }: ReducedBody,
  ctx: Context,
): Outcome<Pick<LiveModel, "reduced" | "coupling" | "parts" | "lift" | "figures" | "still">> {
  const parts = columnParts(base, model, columns, ctx);
  if (!parts.ok) return parts;
  const coupling = prepareCoupling(parts.value, ctx.kernels);
  if (!coupling.ok) return coupling;
  const still = solveReduced(model, [], 1, ctx.kernels);
  if (!still.ok) return still;
  const none = new Float64Array(0);
  return done({
    reduced: { ...model, vectors: none },
    coupling: { system: coupling.value.system, top: { ...coupling.value.top, lift: none, product: none } },
    parts: { ...parts.value, body: withoutSurface(parts.value.body) },
    lift: { top: coupling.value.top.lift, back: coupling.value.backLift ?? none },
    figures,
    still: loadFigures(figures, still.value),
  });
}

/** What is coupled, told by the columns: wall flow and residual mass of each; the outer air of the modes, none of the rest. */
function columnParts(
  { parts, modes, signs, cavity: inside }: LiveBase,
  model: { readonly count: number; readonly stiffness: Float64Array; readonly mass: Float64Array },
  columns: StructureModes,
  ctx: Context,
): Outcome<StructureParts> {
  let cavity = parts.cavity;
  if (cavity !== null && inside !== null) {
    const air = cavityAir(inside, columns, ctx);
    if (!air.ok) return air;
    cavity = { ...air.value, aperture: cavity.aperture };
  }
  return done({
    ...parts,
    // an edit's board is the quick one, with rigid far ends
    neck: null,
    body: { ...columns, pointResidual: modes.pointResidual },
    matrices: {
      stiffness: unpacked(model.stiffness, model.count),
      mass: unpacked(model.mass, model.count),
    },
    cavity,
    outside: parts.outside && widened(parts.outside, signs, model.count),
  });
}

/** The outer air of more structural columns: those beyond the modes move none. */
function widened(air: OuterAir, signs: Float64Array, columns: number): OuterAir {
  const modes = signs.length;
  const a = air.count - modes;
  const count = columns + a;
  const place = (k: number): number => (k < modes ? k : columns + k - modes);
  const sign = (k: number): number => (k < modes ? signs[k]! : 1);
  const square = (table: Float64Array): Float64Array => {
    const out = new Float64Array(air.frequencies.length * count * count);
    for (let f = 0; f < air.frequencies.length; f++) {
      for (let i = 0; i < air.count; i++) {
        for (let j = 0; j < air.count; j++)
          out[(f * count + place(i)) * count + place(j)] =
            sign(i) * sign(j) * table[(f * air.count + i) * air.count + j]!;
      }
    }
    return out;
  };
  const lines = (table: Float64Array): Float64Array => {
    const rows = table.length / air.count;
    const out = new Float64Array(rows * count);
    for (let r = 0; r < rows; r++) {
      for (let i = 0; i < air.count; i++) out[r * count + place(i)] = sign(i) * table[r * air.count + i]!;
    }
    return out;
  };
  return {
    ...air,
    count,
    resistance: square(air.resistance),
    mass: square(air.mass),
    pressureRe: lines(air.pressureRe),
    pressureIm: lines(air.pressureIm),
  };
}

function unpacked(packed: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0, p = 0; i < n; i++)
    for (let j = 0; j <= i; j++, p++) out[i * n + j] = out[j * n + i] = packed[p]!;
  return out;
}

/** Without what only pictures and the coupling's preparation need. */
function withoutSurface(body: StructureModes): StructureModes {
  const none = new Uint32Array(0);
  const empty = new Float64Array(0);
  return {
    ...body,
    shapes: empty,
    surface: { nodes: empty, triangles: none, part: new Uint8Array(0) },
    mesh: { top: null, back: null, topNode: none, backNode: none },
  };
}
