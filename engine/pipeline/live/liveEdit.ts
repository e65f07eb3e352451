import { noteBoard } from "#engine/notes";
import { type Context, choleskyDense, choleskySolve, done, failed, type Outcome } from "#engine/numerics";
import {
  type Coupling,
  crownView,
  type StructureParts,
  solveCoupling,
  structureResidual,
} from "#engine/response";
import { activeColumns, changedMatrix, type ReducedSolution, solveReduced } from "#engine/shells";
import { activeCoupling, activeParts } from "./activeCoupling.ts";
import type { LiveChange, LiveModel, LiveResult } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";
import { loadFigures } from "./loadFigures.ts";

/**
 * Estimated error of a frequency among the first modes beyond which a full solve is asked for: a third of the 0.3 % that an
 * edit may be off by, as the estimate may be low by three. What the strings' forces add to the stiffness is not made anew
 * by an edit and not in the estimate (0.07 % after a brace of the top lost 30 % of its height).
 */
const errorBound = 1e-3;
const watchedModes = 30;

/**
 * Modes, coupled response, note board and string-load figures after a change, without refactoring anything. Fails with
 * 'unknown-parameter', 'cancelled', and as the coupling and the note board do.
 */
export function liveEdit(model: LiveModel, change: LiveChange, ctx: Context): Outcome<LiveResult> {
  const point = change.filter(({ parameter }) => parameter !== holeParameter.id);
  const hole = change.find(({ parameter }) => parameter === holeParameter.id)?.factor ?? 1;
  const { reduced } = model;
  const solved = solveReduced(reduced, point, reduced.values.length, ctx.kernels);
  if (!solved.ok) return solved;
  const moved = movedCoupling(model, point, hole);
  if (!moved.ok) return moved;
  const { parts, coupling } = moved.value;
  const response = solveCoupling(parts, coupling, ctx);
  if (!response.ok) return response;
  const { strings, frets, a4, anchor } = model.board;
  const board = noteBoard(
    {
      strings,
      bodies: strings.map((_, crown) => crownView(response.value, crown)),
      frets,
      validToHz: response.value.validToHz,
      decayValidToHz: response.value.modesToHz,
      a4,
      quick: true,
      anchor,
    },
    ctx,
  );
  if (!board.ok) return board;
  const load = loadFigures(model.figures, solved.value);
  return done({
    structureHz: solved.value.values.map((v) => Math.sqrt(v) / (2 * Math.PI)),
    errorEstimate: solved.value.error,
    response: response.value,
    board: board.value,
    load: {
      bridgeRotation: model.load.bridgeRotation + load.bridgeRotation - model.still.bridgeRotation,
      saddleRise: model.load.saddleRise + load.saddleRise - model.still.saddleRise,
    },
    needsFullSolve: reasons(model, change, solved.value),
  });
}

/** The coupled equations at a changed place, before they are solved. Fails with 'unknown-parameter'. */
export function movedCoupling(
  model: LiveModel,
  point: LiveChange,
  hole: number,
): Outcome<{ readonly parts: StructureParts; readonly coupling: Coupling }> {
  const chosen = activeColumns(model.reduced, point);
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
  if (terms.length > 0) {
    const size = columns.length;
    const add = (to: Float64Array, from: Float64Array): void => {
      for (let i = 0; i < size; i++)
        for (let j = 0; j < size; j++) to[i * system.n + j]! += from[i * size + j]!;
    };
    add(system.stiffness, changedMatrix(columns, null, terms, "stiffness"));
    add(system.mass, changedMatrix(columns, null, terms, "mass"));
    add(system.wood, changedMatrix(columns, null, terms, "loss"));
  }
  return done({
    parts: holeParts(model, parts, hole),
    coupling: { ...coupling, system: holeSystem(model, { ...system, residual: own.value }, hole) },
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

/** Factors of the opening's inertance and friction for a factor on its size, between the prepared ones in logarithms. */
function holeFactors(model: LiveModel, size: number): { inertance: number; viscous: number } {
  const law = model.hole;
  if (law === null || size === 1) return { inertance: 1, viscous: 1 };
  // a parabola through the three, in logarithms
  const [a, , c] = Array.from(law.factors, Math.log) as [number, number, number];
  const at = Math.log(size);
  const of = (values: Float64Array): number => {
    const [p, q] = [Math.log(values[0]!), Math.log(values[2]!)];
    return Math.exp((p * at * (at - c)) / (a * (a - c)) + (q * at * (at - a)) / (c * (c - a)));
  };
  return { inertance: of(law.inertance), viscous: of(law.viscous) };
}

function holeSystem(model: LiveModel, c: Coupling["system"], size: number): Coupling["system"] {
  const { inertance, viscous } = holeFactors(model, size);
  if (inertance === 1) return c;
  const { n, structureCount: p, apertureCount: a } = c;
  for (let i = 0; i < a; i++) {
    for (let j = 0; j < a; j++) c.mass[(p + i) * n + p + j]! += (inertance - 1) * c.inertance[i * a + j]!;
  }
  return {
    ...c,
    inertance: c.inertance.map((v) => inertance * v),
    laws: c.laws && { ...c.laws, rub: c.laws.rub.map((v) => Math.sqrt(viscous) * v) },
  };
}

function holeParts(model: LiveModel, parts: StructureParts, size: number): StructureParts {
  const { inertance } = holeFactors(model, size);
  const aperture = parts.cavity?.aperture;
  if (inertance === 1 || !parts.cavity || !aperture) return parts;
  const scaled = (a: Float64Array): Float64Array => a.map((v) => inertance * v);
  return {
    ...parts,
    cavity: {
      ...parts.cavity,
      aperture: {
        ...aperture,
        inertance: scaled(aperture.inertance),
        range: { low: scaled(aperture.range.low), high: scaled(aperture.range.high) },
      },
    },
  };
}

function reasons(model: LiveModel, change: LiveChange, { error }: ReducedSolution): string[] {
  const out: string[] = [];
  const worst = Math.max(0, ...error.subarray(0, watchedModes));
  if (worst > errorBound)
    out.push(
      `the reduced model may be off by ${(100 * worst).toFixed(2)} % in a frequency among the first ${watchedModes} modes`,
    );
  for (const { parameter, factor } of change) {
    const limit = model.limits.find(({ id }) => id === parameter);
    if (limit && (factor < limit.low || factor > limit.high))
      out.push(
        `${parameter} at ${factor} of its value lies beyond what was prepared (${limit.low} to ${limit.high})`,
      );
  }
  const moved = change.flatMap(({ parameter, factor }) => {
    const term = factor === 1 ? undefined : model.reduced.terms.find((t) => t.parameter === parameter);
    return term === undefined ? [] : [term];
  });
  moved.forEach((a, i) => {
    for (const b of moved.slice(i + 1)) {
      const home = (t: typeof a): string => t.borrows ?? t.parameter;
      if (home(a) !== home(b) && !a.sees.includes(home(b)) && !samePlateApart(a.parameter, b.parameter))
        out.push(
          `${a.parameter} and ${b.parameter} change together: what one makes of the other's correction is left out`,
        );
    }
  });
  return out;
}

/** Changes of different plates meet in no element. */
function samePlateApart(a: string, b: string): boolean {
  const plate = (id: string): string => (id.startsWith("back.") ? "back" : "top");
  return plate(a) !== plate(b);
}
