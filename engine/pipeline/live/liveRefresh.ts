import type { Build } from "#engine/instrument";
import {
  type Context,
  done,
  failed,
  lowestDense,
  type Outcome,
  type RefreshState,
  refreshState,
  refreshValues,
} from "#engine/numerics";
import {
  type BodyPart,
  type BodySystem,
  bodyChange,
  changedMatrices,
  type OwnLaminates,
  ownLaminates,
  type ReducedSolution,
} from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import type { SetString } from "../stringSet.ts";
import { strungShell } from "../structure/strungShell.ts";
import { changedBuild } from "./changedBuild.ts";
import type { LiveFactor } from "./liveModel.ts";

/**
 * What the exact refresh after an edit needs beside the model: working state with a factor in it that every refresh changes IN
 * PLACE, so it stays with the worker that made it.
 */
export interface LiveRefresh {
  readonly build: Build;
  readonly geometry: InstrumentGeometry;
  readonly strings: readonly SetString[];
  /** Under the load of its strings, nothing changed. */
  readonly system: BodySystem;
  readonly own: OwnLaminates;
  readonly state: RefreshState;
  /** columns x n of the reduced model. */
  readonly vectors: Float32Array;
  readonly rigidCount: number;
}

/** Modes of the changed structure itself, no longer in the reduced basis. */
export interface ExactModes {
  /** rad2/s2, ascending, elastic. */
  readonly values: Float64Array;
  /** By mode: relative error of its frequency, estimated; see `errorsLeft`. */
  readonly error: Float64Array;
}

/** Elastic modes brought up to date. With the rigid ones they fill whole blocks of four. */
const refreshedModes = 30;
/** (rad/s)2: small beside the first elastic mode, and large enough for a free body. */
const shift = (2 * Math.PI * 30) ** 2;

/** Factors the unchanged body. Fails as `refreshState` does. */
export function liveRefresh(
  { build, geometry, strings }: Pick<LiveRefresh, "build" | "geometry" | "strings">,
  system: BodySystem,
  reduced: { readonly vectors: Float64Array; readonly rigidCount: number },
  ctx: Context,
  elastic = refreshedModes,
): Outcome<LiveRefresh> {
  const { rigidCount } = reduced;
  const most = rigidCount + elastic;
  const state = refreshState(system.stiffness, system.mass, { shift, most, group: system.group }, ctx);
  if (!state.ok) return state;
  return done({
    build,
    geometry,
    strings,
    system,
    own: ownLaminates(system),
    state: state.value,
    vectors: Float32Array.from(reduced.vectors),
    rigidCount,
  });
}

/**
 * The first `elastic` modes of the changed structure: the changed fronts are factored anew, the reduced model's modes go once
 * through the inverse, and Rayleigh and Ritz do the rest. The stiffness that the strings' forces add is that of the unchanged
 * body. Fails with 'no-such-value', and as `bodyChange` and `refreshModes` do.
 */
export function exactModes(
  refresh: LiveRefresh,
  change: readonly LiveFactor[],
  solved: ReducedSolution,
  ctx: Context,
  elastic = refreshedModes,
): Outcome<ExactModes> {
  const { system, own, geometry, strings, state, rigidCount } = refresh;
  let { build } = refresh;
  const parts = new Set<BodyPart>();
  for (const { parameter, factor } of change) {
    if (factor === 1) continue;
    const next = changedBuild(build, parameter, factor);
    if (next === null) return failed("no-such-value", `an exact refresh cannot follow ${parameter}`);
    build = next.build;
    for (const part of next.parts) parts.add(part);
  }
  const changes = bodyChange(system, strungShell(build, geometry, strings), [...parts], own);
  if (!changes.ok) return changes;
  const now = changedMatrices(system, changes.value);
  // the rigid motions go with them: what there is of these in the others grows in the inverse
  const given = rigidCount + Math.min(elastic, solved.count);
  const start = startVectors(refresh, solved, given);
  const found = refreshValues(state, now.stiffness, now.mass, start, rigidCount, ctx);
  if (!found.ok) return found;
  const values = found.value.slice(rigidCount);
  return done({ values, error: errorsLeft(values, solved.values) });
}

/**
 * Relative error of each frequency that one step through the inverse leaves. What the start lacks lies beyond the modes of the
 * reduced model (from lambda_g on), as these are orthogonal to one another: it has shrunk by q = (lambda + s)/(lambda_g + s), what
 * it does to lambda by q^2; and all of it was what the step took off and what is left. Pessimistic: most of it lies far beyond.
 */
function errorsLeft(values: Float64Array, start: Float64Array): Float64Array {
  const next = start[start.length - 1]!;
  return values.map((v, i) => {
    const q = ((v + shift) / (next + shift)) ** 2;
    return (Math.abs(start[i]! / v - 1) * q) / (2 * (1 - q));
  });
}

/** Columns with less than this share of a mode are left out of its start: its square is what they do to lambda. */
const least = 2e-3;

/** given x n: the reduced model's own modes at the changed place, the rigid ones last; four columns at a time. */
function startVectors(
  { vectors, system: { n }, rigidCount }: LiveRefresh,
  { columns, coordinates }: ReducedSolution,
  given: number,
): Float64Array {
  const out = new Float64Array(given * n);
  const size = columns.length;
  for (let m = 0; m < given; m++) {
    const own = ((m + rigidCount) % given) * size;
    const used: number[] = [];
    for (let c = 0; c < size; c++) if (Math.abs(coordinates[own + c]!) > least) used.push(c);
    const at = (k: number): number => (k < used.length ? columns[used[k]!]! * n : 0);
    const share = (k: number): number => (k < used.length ? coordinates[own + used[k]!]! : 0);
    for (let k = 0; k < used.length; k += 4)
      addFour(
        out,
        m * n,
        vectors,
        [at(k), at(k + 1), at(k + 2), at(k + 3)],
        [share(k), share(k + 1), share(k + 2), share(k + 3)],
        n,
      );
  }
  return out;
}

type Four = readonly [number, number, number, number];

function addFour(out: Float64Array, to: number, from: Float32Array, at: Four, share: Four, n: number): void {
  const [a, b, c, d] = at;
  const [e, f, g, h] = share;
  for (let i = 0; i < n; i = (i + 1) | 0)
    out[to + i] = out[to + i]! + e * from[a + i]! + f * from[b + i]! + g * from[c + i]! + h * from[d + i]!;
}

/**
 * What to add to a structure's stiffness in a basis (size x size, with its mass) so that its lowest elastic modes there take the
 * exact values, in order: sum of (exact - own) (M z)(M z)'. Shapes stay those of the basis.
 */
export function shiftedTo(
  exact: Float64Array,
  stiffness: Float64Array,
  mass: Float64Array,
  size: number,
  rigidCount: number,
  ctx: Context,
): Outcome<Float64Array> {
  const count = rigidCount + exact.length;
  const own = lowestDense(stiffness, mass, size, count, ctx.kernels);
  if (!own.ok) return own;
  const { values, vectors } = own.value;
  const out = new Float64Array(size * size);
  const force = new Float64Array(size);
  for (let m = rigidCount; m < values.length; m++) {
    const gap = exact[m - rigidCount]! - values[m]!;
    for (let i = 0; i < size; i++) {
      force[i] = 0;
      for (let j = 0; j < size; j++) force[i]! += mass[i * size + j]! * vectors[m * size + j]!;
    }
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++) out[i * size + j]! += gap * force[i]! * force[j]!;
  }
  return done(out);
}
