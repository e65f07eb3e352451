import { type CavityModes, cavityModes } from "#engine/air";
import type { Build } from "#engine/instrument";
import { boardAnchor, type NoteBoard, readyBoard } from "#engine/notes";
import { type Context, done, failed, type Outcome } from "#engine/numerics";
import {
  type OuterAir,
  prepareCoupling,
  rigidWallAir,
  type StructureModes,
  type StructureParts,
} from "#engine/response";
import {
  type BodySystem,
  bodyChange,
  joinedSystem,
  ownLaminates,
  reduceBody,
  solveReduced,
} from "#engine/shells";
import { cavityAir } from "../body/airParts.ts";
import type { BodySettings } from "../body/bodySettings.ts";
import type { WholeBody } from "../body/coupledBody.ts";
import { loadInput, strungSystem } from "../body/stringLoad.ts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { bodyShell, stringEnds } from "../structure/bodyShell.ts";
import { cavitySpec } from "../structure/boxAir.ts";
import { boardStrings } from "./boardStrings.ts";
import { changedBuild } from "./changedBuild.ts";
import { holeLaw } from "./holeLaw.ts";
import { liveEdit } from "./liveEdit.ts";
import type { LiveModel } from "./liveModel.ts";
import { holeParameter, type LiveParameter, liveParameters, rangeParameters } from "./liveParameters.ts";
import { type LiveRefresh, liveRefresh } from "./liveRefresh.ts";
import { loadFigures } from "./loadFigures.ts";

/** A voice, as far as live edits start from it. Plain data. */
export interface LiveInput {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  readonly settings: BodySettings;
  readonly body: Pick<WholeBody, "parts" | "made">;
  readonly board: NoteBoard;
}

/** A model and what its exact refresh needs. */
export interface RefreshableLive {
  readonly model: LiveModel;
  readonly refresh: LiveRefresh;
}

/** As `prepareLive`, with what an exact refresh needs: working state, for one worker. Fails as that and `liveRefresh` do. */
export function prepareRefreshable(
  input: LiveInput,
  ctx: Context,
  parameters: readonly LiveParameter[] = liveParameters(input.build),
): Outcome<RefreshableLive> {
  const made = preparedLive(input, ctx, parameters);
  if (!made.ok) return made;
  const { model, system, vectors } = made.value;
  const refresh = liveRefresh(input, system, { vectors, rigidCount: model.reduced.rigidCount }, ctx);
  return refresh.ok ? done({ model, refresh: refresh.value }) : refresh;
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
): Outcome<{ readonly model: LiveModel; readonly system: BodySystem; readonly vectors: Float64Array }> {
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
  const ends = stringEnds(build, geometry);
  const points = [...ends.map(({ crown }) => ({ ...crown, height: 0 })), ...ends.map(({ nut }) => nut)];
  const reduced = reduceBody(
    system,
    points,
    settings.toFrequency,
    changes.value,
    loadInput(build, geometry, strings),
    part(0.25, 0.85),
  );
  if (!reduced.ok) return reduced;
  const { model, columns, modes, figures } = reduced.value;
  const signs = modeSigns(modes, body.parts.body);
  if (signs === null)
    return failed("modes-differ", "the modes found for live edits are not those of the voice");
  const inside = cavitySpec(build, geometry.plan, settings.cavity);
  if (!inside.ok) return inside;
  const cavity = body.parts.cavity && cavityModes(inside.value, ctx);
  if (cavity !== null && !cavity.ok) return cavity;
  const parts = columnParts(input, model, columns, modes, signs, cavity?.value ?? null, ctx);
  if (!parts.ok) return parts;
  const coupling = prepareCoupling(parts.value, ctx.kernels);
  if (!coupling.ok) return coupling;
  const still = solveReduced(model, [], 1, ctx.kernels);
  if (!still.ok) return still;
  const walls = rigidWallAir(body.parts, ctx.kernels);
  if (!walls.ok) return walls;
  const hole = cavity?.value.aperture ? holeLaw(inside.value, cavity.value, ctx) : done(null);
  if (!hole.ok) return hole;
  const none = new Float64Array(0);
  const made: LiveModel = {
    limits: [...parameters.map(({ id, low, high }) => ({ id, low, high })), holeParameter],
    reduced: { ...model, vectors: none },
    coupling: { system: coupling.value.system, top: { ...coupling.value.top, lift: none, product: none } },
    parts: { ...parts.value, body: withoutSurface(parts.value.body) },
    figures,
    load: { bridgeRotation: load.figures.bridgeRotation, saddleRise: load.figures.saddleRise },
    still: loadFigures(figures, still.value),
    hole: hole.value,
    rigidWallAir: walls.value,
    board: {
      strings: boardStrings(geometry, strings),
      frets: build.board.frets,
      a4: build.tuningReference,
      ready: { highest: 0, notes: [] },
      anchor: boardAnchor(input.board, input.board),
    },
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

/** What is coupled, told by the columns: wall flow and residual mass of each; the outer air of the modes, none of the rest. */
function columnParts(
  { body: { parts } }: LiveInput,
  model: { readonly count: number; readonly stiffness: Float64Array; readonly mass: Float64Array },
  columns: StructureModes,
  modes: StructureModes,
  signs: Float64Array,
  inside: CavityModes | null,
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
