import { type Context, choleskyDense, choleskySolve, done, failed, type Outcome } from "#engine/numerics";
import { type Coupling, type StructureParts, structureResidual } from "#engine/response";
import { activeColumns, changedMatrix } from "#engine/shells";
import { activeCoupling, activeParts } from "./activeCoupling.ts";
import type { LiveModel } from "./liveModel.ts";
import type { LivePlace } from "./livePlace.ts";
import { shiftedTo } from "./liveRefresh.ts";

/** Coupled modes above this share of the structure's highest listed frequency answer at rest alone: none of them is looked at. */
const dynamicShare = 1.3;

/** Frequencies squared (rad2/s2) that the lowest elastic modes of the structure are to take, in order. */
export interface KnownModes {
  readonly values: Float64Array;
  readonly ctx: Context;
}

/**
 * The coupled equations at a changed place, before they are solved. `known`: of the changed structure, where more is known of it
 * than the reduced model tells. Fails with 'unknown-parameter', and as `shiftedTo` does.
 */
export function movedCoupling(
  model: LiveModel,
  { point, laid, hole }: LivePlace,
  known?: KnownModes,
): Outcome<{
  readonly parts: StructureParts;
  readonly coupling: Coupling;
  /** Of the reduced model, by structural coordinate of the equations. */
  readonly columns: Uint32Array;
}> {
  const chosen = activeColumns(model.reduced, point, laid);
  if (!chosen.ok) return chosen;
  const { parts: terms } = chosen.value;
  // the answers to static loads are for the load figures: at rest the modes are to be those of the voice
  const modes = model.parts.body.rigidCount + model.reduced.values.length;
  const columns = chosen.value.columns.filter((c) => c < modes || c >= modes + model.reduced.loadCount);
  const residual = residualBeyond(model, columns);
  if (!residual.ok) return residual;
  const parts = activeParts(model.parts, columns, residual.value);
  const own = structureResidual(parts);
  if (!own.ok) return own;
  const coupling = activeCoupling(model.coupling, columns);
  const { system } = coupling;
  const size = columns.length;
  const add = (to: Float64Array, from: Float64Array): void => {
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++) to[i * system.n + j]! += from[i * size + j]!;
  };
  const stiffness = changedMatrix(columns, null, terms, "stiffness");
  const mass = changedMatrix(columns, null, terms, "mass");
  if (terms.length > 0) {
    add(system.stiffness, stiffness);
    add(system.mass, mass);
    add(system.wood, changedMatrix(columns, null, terms, "loss"));
  }
  if (known !== undefined && parts.matrices) {
    const bare = (a: Float64Array, change: Float64Array) => a.map((v, i) => v + change[i]!);
    const shifted = shiftedTo(
      known.values,
      bare(parts.matrices.stiffness, stiffness),
      bare(parts.matrices.mass, mass),
      size,
      model.parts.body.rigidCount,
      known.ctx,
    );
    if (!shifted.ok) return shifted;
    add(system.stiffness, shifted.value);
  }
  return done({
    columns,
    parts: holeParts(model, parts, hole),
    coupling: {
      ...coupling,
      system: holeSystem(
        model,
        {
          ...system,
          residual: own.value,
          staticAbove: 2 * Math.PI * dynamicShare * model.parts.basisToHz,
        },
        hole,
      ),
      ...(hole === 1 ? { rigidWallAir: model.rigidWallAir } : {}),
    },
  });
}

/** Flexibility between the points beyond the columns: what the modes lack, less the corrections' own. */
function residualBeyond(model: LiveModel, columns: Uint32Array): Outcome<Float64Array> {
  const { body } = model.parts;
  const first = body.rigidCount + model.reduced.values.length;
  const extra = columns.filter((c) => c >= first);
  const m = extra.length;
  if (m === 0) return done(body.pointResidual);
  const all = body.rigidCount + body.count;
  const width = body.points.length / all;
  const k = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) k[i * m + j] = model.parts.matrices!.stiffness[extra[i]! * all + extra[j]!]!;
  const factor = choleskyDense(k, m);
  if (!factor.ok) return failed("corrections-dependent", factor.detail);
  // point motions of the corrections, one right-hand side by point motion
  const b = new Float64Array(width * m);
  for (let q = 0; q < width; q++)
    for (let i = 0; i < m; i++) b[q * m + i] = body.points[extra[i]! * width + q]!;
  const x = choleskySolve(factor.value, m, b, width);
  const out = body.pointResidual.slice();
  for (let p = 0; p < width; p++) {
    for (let q = 0; q < width; q++) {
      let sum = 0;
      for (let i = 0; i < m; i++) sum += b[p * m + i]! * x[q * m + i]!;
      out[p * width + q]! -= sum;
    }
  }
  return done(out);
}

/** What a factor on the hole's size does to the opening: kg/m4 more of the even flow, and factors on all flows and on the friction. */
interface MovedHole {
  readonly more: number;
  readonly inertance: number;
  readonly viscous: number;
}

/** Between the prepared sizes a parabola through the three, in logarithms; null: as it was. */
function movedHole({ hole: law }: LiveModel, size: number): MovedHole | null {
  if (law === null || size === 1) return null;
  const [a, , c] = Array.from(law.factors, Math.log) as [number, number, number];
  const at = Math.log(size);
  const of = (values: Float64Array): number => {
    const [p, q] = [Math.log(values[0]! / values[1]!), Math.log(values[2]! / values[1]!)];
    return Math.exp((p * at * (at - c)) / (a * (a - c)) + (q * at * (at - a)) / (c * (c - a)));
  };
  const inertance = of(law.inertance);
  return { more: (inertance - 1) * law.inertance[1]!, inertance, viscous: of(law.viscous) };
}

/** A x A: flows that circle through the opening change by the factor; the even one, the first, by what there is more of it. */
function movedInertance(from: Float64Array, { more, inertance }: MovedHole): Float64Array {
  const out = from.map((v) => inertance * v);
  out[0] = from[0]! + more;
  return out;
}

function holeSystem(model: LiveModel, c: Coupling["system"], size: number): Coupling["system"] {
  const moved = movedHole(model, size);
  if (moved === null) return c;
  const { n, structureCount: p, apertureCount: a } = c;
  const inertance = movedInertance(c.inertance, moved);
  for (let i = 0; i < a; i++) {
    for (let j = 0; j < a; j++)
      c.mass[(p + i) * n + p + j]! += inertance[i * a + j]! - c.inertance[i * a + j]!;
  }
  return {
    ...c,
    inertance,
    laws: c.laws && { ...c.laws, rub: c.laws.rub.map((v) => Math.sqrt(moved.viscous) * v) },
  };
}

function holeParts(model: LiveModel, parts: StructureParts, size: number): StructureParts {
  const moved = movedHole(model, size);
  const aperture = parts.cavity?.aperture;
  if (moved === null || !parts.cavity || !aperture) return parts;
  const { low, high } = aperture.range;
  return {
    ...parts,
    cavity: {
      ...parts.cavity,
      aperture: {
        ...aperture,
        inertance: movedInertance(aperture.inertance, moved),
        range: { low: movedInertance(low, moved), high: movedInertance(high, moved) },
      },
    },
  };
}
