import { type Context, done, failed, modesBelow, type Outcome } from "#engine/numerics";
import type { BodyModes, BodySystem } from "../body/bodyModel.ts";
import { describedModes, residualShift, rigidVectors } from "../body/bodyModes.ts";
import type { PointRef } from "../body/bodySpec.ts";
import { rigidMotions } from "../body/bodySystem.ts";
import { motionsUnder } from "../body/motionRows.ts";
import { pointRows } from "../body/pointRows.ts";
import { loadRows, type StringPull, stringLoads } from "../body/staticLoads.ts";
import { rigidFit } from "../body/staticSolution.ts";
import { footprintRotation } from "../panelStatic.ts";
import type { ShellMesh } from "../shellMesh.ts";
import { packedLength } from "./projectChange.ts";
import type { NominalModes, ReducedModel, ReducedParameter } from "./reducedModel.ts";
import { reduceStructure } from "./reduceStructure.ts";

/** A body's reduced model with what coupling and the string load need of every one of its columns. */
export interface ReducedBody {
  readonly model: ReducedModel;
  /** As if all columns were modes: the elastic ones with the frequency of their own Rayleigh quotient, loss as projected. */
  readonly columns: BodyModes;
  readonly nominal: NominalModes;
  /** The nominal modes alone, with the residual flexibility beyond them. */
  readonly modes: BodyModes;
  /** 2 x columns: turn of the bridge's footprint (rad, towards the nut) and rise of the saddle's middle (m) per unit column. */
  readonly figures: Float64Array;
}

/** Strings at pitch and where the answer is read. */
export interface ReducedLoad {
  readonly pulls: readonly StringPull[];
  readonly footprint: Float64Array;
  readonly saddle: { readonly x: number; readonly y: number; readonly height: number };
}

/**
 * Finds the body's modes to a frequency (Hz) and reduces it around them for the parameters; the string load is the model's
 * one given load. Fails as the eigensolver, `describedModes`, `loadRows` and `reduceStructure` do.
 */
export function reduceBody(
  system: BodySystem,
  points: readonly PointRef[],
  toFrequency: number,
  parameters: readonly ReducedParameter[],
  load: ReducedLoad,
  ctx: Context,
): Outcome<ReducedBody> {
  const to = (2 * Math.PI * toFrequency) ** 2;
  const rows = pointRows(system, points);
  if (!rows.ok) return rows;
  const shift = residualShift(toFrequency);
  const found = modesBelow(system.stiffness, system.mass, { to, group: system.group, shift }, ctx);
  if (!found.ok) return found;
  const { solve, solveShift, between } = found.value;
  const still = { shift: solveShift, flexibility: between(rows.value) };
  const modes = describedModes(system, rows.value, found.value, still, ctx.kernels);
  if (!modes.ok) return modes;
  const { rigidCount } = modes.value;
  const vectors = found.value.vectors.slice();
  if (rigidCount > 0) vectors.set(rigidVectors(system));
  const nominal = { rigidCount, values: found.value.values.slice(rigidCount), vectors };
  return reduceAround(system, points, { nominal, modes: modes.value }, parameters, load, solve, ctx);
}

/**
 * The same around modes that are known: their vectors, and what is told of them. `solve`: as `reduceStructure` has it; `trimmed`: what is
 * kept of that one's model. Fails as
 * `describedModes`, `loadRows` and that do.
 */
export function reduceAround(
  system: BodySystem,
  points: readonly PointRef[],
  known: Pick<ReducedBody, "nominal" | "modes">,
  parameters: readonly ReducedParameter[],
  load: ReducedLoad,
  solve: (b: Float64Array, columns: number) => Float64Array,
  ctx: Context,
  trimmed: (model: ReducedModel) => Outcome<ReducedModel> = done,
): Outcome<ReducedBody> {
  const { rigidCount } = known.nominal;
  const rows = pointRows(system, points);
  if (!rows.ok) return rows;
  const pull = loadRows(system, stringLoads(system, load.pulls, load.footprint));
  if (!pull.ok) return pull;
  const reduced = reduceStructure(system, known.nominal, parameters, pull.value, solve, ctx);
  if (!reduced.ok) return reduced;
  const kept = trimmed(reduced.value);
  if (!kept.ok) return kept;
  const model = kept.value;
  const values = Float64Array.from({ length: model.count }, (_, i) => {
    const at = packedLength(i) + i;
    return i < rigidCount ? 0 : model.stiffness[at] / model.mass[at];
  });
  // the residual beyond the columns depends on which of them take part: it is made from that of the modes
  const columns = describedModes(system, rows.value, { values, vectors: model.vectors }, null, ctx.kernels);
  if (!columns.ok) return columns;
  const figures = loadFigures(system, model, load);
  return figures.ok ? done({ ...known, model, columns: columns.value, figures: figures.value }) : figures;
}

function loadFigures(system: BodySystem, model: ReducedModel, load: ReducedLoad): Outcome<Float64Array> {
  const { top, topNode } = system.mesh;
  if (top === null) return failed("no-top", "a body without a top carries no bridge");
  const saddle = pointRows(system, [{ part: "top", ...load.saddle }]);
  if (!saddle.ok) return saddle;
  const { n, layout } = system;
  const mesh = nearby(top, load.footprint);
  const onTop = new Float64Array(6 * topNode.length);
  const rigid = rigidMotions(layout.rowMotion, layout.places);
  const out = new Float64Array(2 * model.count);
  const motion = new Float64Array(layout.motions);
  for (let c = 0; c < model.count; c++) {
    const x = model.vectors.slice(c * n, (c + 1) * n);
    const fit = rigidFit(system, motionsUnder(layout.map, x, motion));
    if (!fit.ok) return fit;
    for (let q = 0; q < 6; q++) for (let i = 0; i < n; i++) x[i] -= fit.value[q] * rigid[q * n + i];
    motionsUnder(layout.map, x, motion);
    topNode.forEach((node, k) => {
      onTop[6 * k + 2] = motion[6 * node + 2];
    });
    out[c] = footprintRotation({ mesh }, onTop, load.footprint);
    out[model.count + c] = motionsUnder(saddle.value, x)[2];
  }
  return done(out);
}

/** The mesh with no more triangles than those that may meet a polygon. */
function nearby(mesh: ShellMesh, polygon: Float64Array): ShellMesh {
  const { nodes, triangles } = mesh.plan;
  const bounds = (axis: number): readonly [number, number] => {
    const values = polygon.filter((_, i) => i % 2 === axis);
    return [Math.min(...values), Math.max(...values)];
  };
  const box = [bounds(0), bounds(1)];
  const kept: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const meets = box.every(([low, high], axis) => {
      const at = corners.map((k) => nodes[2 * k + axis]);
      return Math.max(...at) >= low && Math.min(...at) <= high;
    });
    if (meets) kept.push(...corners);
  }
  return { ...mesh, plan: { ...mesh.plan, triangles: Uint32Array.from(kept) } };
}
