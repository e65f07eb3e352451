import { noteBoard } from "#engine/notes";
import { type Context, done, type Outcome } from "#engine/numerics";
import { crownView, solveCoupling } from "#engine/response";
import { type ReducedSolution, solveReduced } from "#engine/shells";
import type { LiveChange, LiveModel, LiveResult } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";
import { changeParts, type LivePlace, livePlace } from "./livePlace.ts";
import { exactModes, type LiveRefresh } from "./liveRefresh.ts";
import { loadFigures } from "./loadFigures.ts";
import { type KnownModes, movedCoupling } from "./movedCoupling.ts";

/**
 * Estimated error of a frequency among the first modes beyond which a full solve is asked for: a sixth of the 0.3 % that an
 * edit may be off by, as the estimate was seen to be low by up to that much. What the strings' forces add to the stiffness is not
 * made anew by an edit and not in the estimate (0.07 % after a brace of the top lost 30 % of its height).
 */
const errorBound = 5e-4;
const watchedModes = 30;
/** Error of a frequency, found by an exact refresh, beyond which the reduced model's shapes are not good enough either. */
const shapeBound = 3e-3;

/**
 * Modes, coupled response, note board and string-load figures after a change, without refactoring anything. Fails with
 * 'unknown-parameter', 'brace-not-held', 'brace-outside' (a move that the model cannot follow, in words), 'cancelled', and as the coupling and the note board do.
 */
export function liveEdit(model: LiveModel, change: LiveChange, ctx: Context): Outcome<LiveResult> {
  const place = livePlace(model, change, ctx);
  if (!place.ok) return place;
  const solved = reducedAt(model, place.value, ctx);
  if (!solved.ok) return solved;
  const worst = Math.max(0, ...solved.value.error.subarray(0, watchedModes));
  const doubt =
    worst > errorBound
      ? [
          `the reduced model may be off by ${(100 * worst).toFixed(2)} % in a frequency among the first ${watchedModes} modes`,
        ]
      : [];
  return answer(model, place.value, solved.value, [...doubt, ...reasons(model, change)], ctx);
}

/** An edit with the exact frequencies of the structure in it. */
export interface SettledEdit extends LiveResult {
  /** Elastic modes of the structure that are exact, and by how much the reduced model was off in one of them at most (relative, in frequency). */
  readonly exactModes: number;
  readonly reducedError: number;
}

/**
 * The same when the hand lets go: the lowest modes of the structure are made exact (`exactModes`), then coupled anew in the reduced
 * model's shapes. A full solve is asked for where these were too far off. Fails as `liveEdit` and `exactModes` do.
 */
export function settleEdit(
  model: LiveModel,
  refresh: LiveRefresh,
  change: LiveChange,
  ctx: Context,
): Outcome<SettledEdit> {
  const { factors, moves } = changeParts(change);
  if (moves.length > 0) return unsettled(model, change, ctx);
  const place = livePlace(model, change, ctx);
  if (!place.ok) return place;
  const solved = reducedAt(model, place.value, ctx);
  if (!solved.ok) return solved;
  const exact = exactModes(refresh, factors, solved.value, ctx);
  if (!exact.ok) return exact;
  const { values } = exact.value;
  const own = solved.value;
  let off = 0;
  for (let i = 0; i < values.length; i++)
    off = Math.max(off, Math.abs(Math.sqrt(own.values[i]! / values[i]!) - 1));
  const doubt =
    off > shapeBound
      ? [
          `the reduced model was off by ${(100 * off).toFixed(2)} % in a frequency among the first ${values.length} modes, too much for its shapes`,
        ]
      : [];
  const known = { ...own, values: own.values.slice(), error: own.error.slice() };
  known.values.set(values);
  known.error.set(exact.value.error);
  const settled = answer(model, place.value, known, [...doubt, ...reasons(model, change)], ctx, {
    values,
    ctx,
  });
  return settled.ok
    ? done({ ...settled.value, exactModes: values.length, reducedError: off }, settled.warnings)
    : settled;
}

/** A brace that lies elsewhere is on no edge of the mesh: the edit's own answer, and why it asks for more. */
function unsettled(model: LiveModel, change: LiveChange, ctx: Context): Outcome<SettledEdit> {
  const edit = liveEdit(model, change, ctx);
  if (!edit.ok) return edit;
  const why = `${model.held?.build.name ?? "a brace"} lies elsewhere: exact modes ask for a mesh along its new line`;
  return done(
    { ...edit.value, exactModes: 0, reducedError: 0, needsFullSolve: [why, ...edit.value.needsFullSolve] },
    edit.warnings,
  );
}

function reducedAt(
  model: LiveModel,
  { point, laid }: LivePlace,
  { kernels }: Context,
): Outcome<ReducedSolution> {
  const solved = solveReduced(model.reduced, point, model.reduced.values.length, kernels, laid);
  return solved.ok && laid.length > 0 ? done(movedError(model, solved.value)) : solved;
}

/**
 * Share of a mode's own shift that a moved brace's edit may be off by: up to two fifths was seen (example A, an end moved by 3 to 20 mm), of
 * which the probes, answers to loads like the corrections, see little.
 */
const movedShare = 0.5;

function movedError(model: LiveModel, solved: ReducedSolution): ReducedSolution {
  const was = model.reduced.values;
  const error = solved.error.map((e, i) =>
    Math.max(e, movedShare * Math.abs(Math.sqrt(solved.values[i]! / was[i]!) - 1)),
  );
  return { ...solved, error };
}

function answer(
  model: LiveModel,
  place: LivePlace,
  solved: ReducedSolution,
  doubt: readonly string[],
  ctx: Context,
  known?: KnownModes,
): Outcome<LiveResult> {
  const moved = movedCoupling(model, place, known);
  if (!moved.ok) return moved;
  const { parts, coupling } = moved.value;
  const response = solveCoupling(parts, coupling, ctx);
  if (!response.ok) return response;
  const { strings, frets, a4, ready, anchor } = model.board;
  const board = noteBoard(
    {
      strings,
      bodies: strings.map((_, crown) => crownView(response.value, crown)),
      frets,
      validToHz: response.value.validToHz,
      decayValidToHz: response.value.modesToHz,
      a4,
      quick: true,
      ready,
      anchor,
    },
    ctx,
  );
  if (!board.ok) return board;
  const load = loadFigures(model.figures, solved);
  return done({
    structureHz: solved.values.map((v) => Math.sqrt(v) / (2 * Math.PI)),
    errorEstimate: solved.error,
    response: response.value,
    board: board.value,
    load: {
      bridgeRotation: model.load.bridgeRotation + load.bridgeRotation - model.still.bridgeRotation,
      saddleRise: model.load.saddleRise + load.saddleRise - model.still.saddleRise,
    },
    needsFullSolve: doubt,
  });
}

function reasons(model: LiveModel, change: LiveChange): string[] {
  const { factors, hole } = changeParts(change);
  const out: string[] = [];
  for (const { parameter, factor } of [...factors, { parameter: holeParameter.id, factor: hole }]) {
    const limit = model.limits.find(({ id }) => id === parameter);
    if (limit && (factor < limit.low || factor > limit.high))
      out.push(
        `${parameter} at ${factor} of its value lies beyond what was prepared (${limit.low} to ${limit.high})`,
      );
  }
  const moved = factors.flatMap(({ parameter, factor }) => {
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
