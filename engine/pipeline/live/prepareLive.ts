import { cavityModes } from "#engine/air";
import type { Build } from "#engine/instrument";
import { boardAnchor, type NoteBoard, readyBoard } from "#engine/notes";
import { type Context, done, failed, type Outcome } from "#engine/numerics";
import { rigidWallAir, type StructureModes } from "#engine/response";
import { type BodySystem, bodyChange, joinedSystem, ownLaminates, reduceBody } from "#engine/shells";
import type { BodySettings } from "../body/bodySettings.ts";
import type { WholeBody } from "../body/coupledBody.ts";
import { loadInput, strungSystem } from "../body/stringLoad.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { bodyShell } from "../structure/bodyShell.ts";
import { cavitySpec } from "../structure/boxAir.ts";
import { boardStrings } from "./boardStrings.ts";
import { changedBuild } from "./changedBuild.ts";
import { coupledColumns, crownsAndNuts, type LiveBase } from "./coupledColumns.ts";
import { holeLaw } from "./holeLaw.ts";
import { liveEdit } from "./liveEdit.ts";
import type { LiveModel } from "./liveModel.ts";
import { holeParameter, type LiveParameter, liveParameters, rangeParameters } from "./liveParameters.ts";
import { type LiveRefresh, liveRefresh } from "./liveRefresh.ts";

/** A voice, as far as live edits start from it. Plain data. */
export interface LiveInput {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  readonly settings: BodySettings;
  readonly body: Pick<WholeBody, "parts" | "made">;
  readonly board: NoteBoard;
}

/** A model, what its exact refresh needs, and what a brace is held with (`holdBrace`). */
export interface RefreshableLive {
  readonly model: LiveModel;
  readonly refresh: LiveRefresh;
  readonly base: LiveBase;
}

/** As `prepareLive`, with what an exact refresh needs: working state, for one worker. Fails as that and `liveRefresh` do. */
export function prepareRefreshable(
  input: LiveInput,
  ctx: Context,
  parameters: readonly LiveParameter[] = liveParameters(input.build),
): Outcome<RefreshableLive> {
  const made = preparedLive(input, ctx, parameters);
  if (!made.ok) return made;
  const { model, system, vectors, base } = made.value;
  const refresh = liveRefresh(input, system, { vectors, rigidCount: model.reduced.rigidCount }, ctx);
  return refresh.ok ? done({ model, refresh: refresh.value, base }) : refresh;
}

/**
 * Makes the reduced model of a voice's body and couples all its columns with the air: once for a voice, in the background.
 * `parameters`: what shall be movable, default everything. Fails as the stages it repeats do, and with 'modes-differ' if
 * the modes found again are not those that were coupled.
 */
export function prepareLive(
  input: LiveInput,
  ctx: Context,
  parameters: readonly LiveParameter[] = [...liveParameters(input.build), ...rangeParameters(input.build)],
): Outcome<LiveModel> {
  const made = preparedLive(input, ctx, parameters);
  return made.ok ? done(made.value.model) : made;
}

/** With the body's matrices and the reduced model's vectors (columns x n), which edits do not need. */
function preparedLive(
  input: LiveInput,
  ctx: Context,
  parameters: readonly LiveParameter[],
): Outcome<{
  readonly model: LiveModel;
  readonly system: BodySystem;
  readonly vectors: Float64Array;
  readonly base: LiveBase;
}> {
  const { build, geometry, strings, settings, body } = input;
  const { spec, mesh, plates } = body.made;
  const joined = joinedSystem(spec, mesh, plates);
  if (!joined.ok) return joined;
  // what the strings' forces add to the stiffness stays as it is while parts are changed
  const strung = strungSystem(joined.value, loadInput(build, geometry, strings), ctx);
  if (!strung.ok) return strung;
  const { system, load } = strung.value;
  const part = (from: number, to: number): Context => ({
    ...ctx,
    progress: (f) => ctx.progress(from + (to - from) * f),
  });
  const changes = parameterChanges(input, system, parameters, part(0, 0.25));
  if (!changes.ok) return changes;
  const reduced = reduceBody(
    system,
    crownsAndNuts(build, geometry),
    settings.toFrequency,
    changes.value,
    loadInput(build, geometry, strings),
    part(0.25, 0.85),
  );
  if (!reduced.ok) return reduced;
  const { model, modes, nominal } = reduced.value;
  const signs = modeSigns(modes, body.parts.body);
  if (signs === null)
    return failed("modes-differ", "the modes found for live edits are not those of the voice");
  const inside = cavitySpec(build, geometry.plan, settings.cavity);
  if (!inside.ok) return inside;
  const cavity = body.parts.cavity && cavityModes(inside.value, ctx);
  if (cavity !== null && !cavity.ok) return cavity;
  const base = { settings, parts: body.parts, nominal, modes, signs, cavity: cavity?.value ?? null };
  const columns = coupledColumns(base, reduced.value, ctx);
  if (!columns.ok) return columns;
  const walls = rigidWallAir(body.parts, ctx.kernels);
  if (!walls.ok) return walls;
  const hole = cavity?.value.aperture ? holeLaw(inside.value, cavity.value, ctx) : done(null);
  if (!hole.ok) return hole;
  const made: LiveModel = {
    ...columns.value,
    limits: [...parameters.map(({ id, low, high }) => ({ id, low, high })), holeParameter],
    load: { bridgeRotation: load.figures.bridgeRotation, saddleRise: load.figures.saddleRise },
    hole: hole.value,
    rigidWallAir: walls.value,
    board: {
      strings: boardStrings(geometry, strings),
      frets: build.board.frets,
      a4: build.tuningReference,
      ready: { highest: 0, notes: [] },
      anchor: boardAnchor(input.board, input.board),
    },
    held: null,
  };
  // the edit that changes nothing tells how far the board reaches
  const first = liveEdit(made, [], { ...ctx, progress: () => {} });
  if (!first.ok) return first;
  const { validToHz, decayValidToHz } = first.value.board;
  const { board } = made;
  const ready = readyBoard(board.strings, board.frets, Math.max(validToHz, decayValidToHz));
  ctx.progress(1);
  const anchor = boardAnchor(input.board, first.value.board);
  return done({
    model: { ...made, board: { ...board, ready, anchor } },
    system,
    vectors: model.vectors,
    base,
  });
}

function parameterChanges(
  { build, geometry, strings }: LiveInput,
  system: BodySystem,
  parameters: readonly LiveParameter[],
  ctx: Context,
) {
  const out = [];
  const own = ownLaminates(system);
  for (const [i, p] of parameters.entries()) {
    if (ctx.cancelled()) return failed("cancelled", "while live edits were prepared");
    const knots = [];
    for (const factor of p.knots) {
      const changed = changedBuild(build, p.id, factor);
      // a value that the structure does not follow is left to whoever asks for it
      if (changed === null) continue;
      const after = bodyShell(changed.build, geometry, strings, "strung");
      const changes = bodyChange(system, after, changed.parts, own);
      if (!changes.ok) return changes;
      knots.push({ factor, changes: changes.value });
    }
    if (knots.length > 0) out.push({ ...p, knots });
    ctx.progress((i + 1) / parameters.length);
  }
  return done(out);
}

/** +1 or -1 by mode: whether the modes found again have the sign of those that were coupled; null where they are others. */
function modeSigns(found: StructureModes, coupled: StructureModes): Float64Array | null {
  const size = found.surface.nodes.length;
  if (found.count !== coupled.count || found.shapes.length !== coupled.shapes.length) return null;
  const all = found.rigidCount + found.count;
  const signs = new Float64Array(all);
  for (let m = 0; m < all; m++) {
    let [ab, aa, bb] = [0, 0, 0];
    for (let k = m * size; k < (m + 1) * size; k++) {
      const [a, b] = [found.shapes[k]!, coupled.shapes[k]!];
      ab += a * b;
      aa += a * a;
      bb += b * b;
    }
    if (!(Math.abs(ab) > 0.999 * Math.sqrt(aa * bb))) return null;
    signs[m] = Math.sign(ab);
  }
  return signs;
}
