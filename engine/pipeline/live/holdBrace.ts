import { distanceToPolyline, type PlateRegion } from "#engine/geometry";
import type { BuildBrace } from "#engine/instrument";
import { type Context, done, failed, type Outcome, refreshSolve } from "#engine/numerics";
import {
  heldGround,
  heldRib,
  type PanelRib,
  reduceAround,
  ribGround,
  ribParameter,
  trimmedToRib,
} from "#engine/shells";
import { loadInput } from "../body/stringLoad.ts";
import { coupledColumns, crownsAndNuts } from "./coupledColumns.ts";
import type { BraceMove } from "./liveModel.ts";
import { holeParameter } from "./liveParameters.ts";
import { movedBrace } from "./movedBrace.ts";
import type { RefreshableLive } from "./prepareLive.ts";

/** m: how far a held brace's ends may be moved. */
const reach = 0.025;
/** Static answers to the forces of moves, and those kept aside to tell the error. */
const corrections = 24;
const probes = 4;

/**
 * A model in which one brace ("top.braces[2]") can be moved by up to 25 mm, made when a hand takes hold of it: some seconds. Edits of
 * the answer take a `BraceMove` of this brace, alone or with a factor on the hole. The model given is left as it is.
 * Fails with 'no-such-brace' (none at that path, or one that the plate's edge cuts in several pieces), 'cancelled'.
 */
export function holdBrace(live: RefreshableLive, brace: string, ctx: Context): Outcome<RefreshableLive> {
  const { model, refresh, base } = live;
  const { build, geometry, strings, system, state } = refresh;
  const which = brace.startsWith("back.") ? "back" : "top";
  const pieces = build[which].braces.filter((b) => b.documentPath === brace);
  const [own] = pieces;
  if (own === undefined) return failed("no-such-brace", `there is no brace at ${brace}`);
  if (pieces.length > 1)
    return failed(
      "no-such-brace",
      `"${own.name}" is cut in ${pieces.length} pieces: it cannot be held as one`,
    );
  const region = which === "top" ? geometry.plan.topRegion : geometry.plan.backRegion;
  const ground = ribGround(system, which, own.name, reach + own.width / 2 + base.settings.meshSize[which]);
  if (!ground.ok) return failed("no-such-brace", ground.detail);
  const known = heldGround(ground.value, system, ctx);
  if (!known.ok) return known;
  const place = { build: own, region, reach };
  const laidAlong = (moves: readonly Line[]): PanelRib[] =>
    moves.flatMap((move) => {
      const moved = movedBrace({ ...place, reach: Number.POSITIVE_INFINITY }, move);
      return moved.ok ? [moved.value] : [];
    });
  const { loaded, trained } = sampleLines(own, region);
  const parameter = ribParameter(brace, ground.value, laidAlong(loaded), system.n);
  if (!parameter.ok) return parameter;
  const solve = (b: Float64Array, columns: number): Float64Array => {
    const solved = refreshSolve(state, system.stiffness, system.mass, b, columns, ctx);
    if (!solved.ok) throw new Error(solved.detail);
    return solved.value;
  };
  const reduced = reduceAround(
    system,
    crownsAndNuts(build, geometry),
    base,
    [parameter.value],
    loadInput(build, geometry, strings),
    solve,
    ctx,
    (whole) =>
      trimmedToRib(whole, brace, known.value, laidAlong(trained), { corrections, probes }, ctx.kernels),
  );
  if (!reduced.ok) return reduced;
  const columns = coupledColumns(base, reduced.value, ctx);
  if (!columns.ok) return columns;
  const rib = heldRib(reduced.value.model, brace, known.value, ctx.kernels);
  if (!rib.ok) return rib;
  return done({
    ...live,
    model: { ...model, ...columns.value, limits: [holeParameter], held: { ...place, brace, rib: rib.value } },
  });
}

type Line = Omit<BraceMove, "brace">;

/**
 * Lines whose loads the model answers (side by side, longer by the reach at ends that no edge cuts), and lines along which it is to be good:
 * either end moved across the brace, ends that no edge cuts along it.
 */
function sampleLines(
  { path }: BuildBrace,
  { outline, holes }: PlateRegion,
): { readonly loaded: readonly Line[]; readonly trained: readonly Line[] } {
  const [x0, y0, x1, y1] = path as unknown as readonly [number, number, number, number];
  const length = Math.hypot(x1 - x0, y1 - y0);
  const [ux, uy] = [(x1 - x0) / length, (y1 - y0) / length];
  const cut = (x: number, y: number): boolean =>
    [outline, ...holes].some((edge) => distanceToPolyline(edge, x, y, true) < 1.5e-3);
  const free = [!cut(x0, y0), !cut(x1, y1)] as const;
  /** a, b: ends moved across; s, e: drawn out. An end that the edge cuts is drawn on, for the edge to cut again. */
  const line = (a: number, b: number, s: number, e: number): Line => {
    const [s1, e1] = [free[0] ? s : 2 * reach, free[1] ? e : 2 * reach];
    return {
      from: [x0 - ux * s1 - uy * a, y0 - uy * s1 + ux * a],
      to: [x1 + ux * e1 - uy * b, y1 + uy * e1 + ux * b],
    };
  };
  const loaded = [-1, -0.5, 0, 0.5, 1].map((f) => line(f * reach, f * reach, reach, reach));
  const across = [
    [-1, -1],
    [-0.5, -0.5],
    [0.5, 0.5],
    [1, 1],
    [-1, 0],
    [1, 0],
    [0, -1],
    [0, 1],
    [-1, 1],
    [1, -1],
  ].map(([a, b]) => line(a! * reach, b! * reach, 0, 0));
  const along = [-1, 1].flatMap((f) => [
    ...(free[0] ? [line(0, 0, f * reach, 0)] : []),
    ...(free[1] ? [line(0, 0, 0, f * reach)] : []),
  ]);
  return { loaded, trained: [line(0, 0, 0, 0), ...across, ...along] };
}
