import {
  done,
  type KernelSource,
  type Outcome,
  type SparseSymmetric,
  typescriptKernels,
} from "#engine/numerics";
import type { PanelRib } from "../panel.ts";
import type { WeighedTerm } from "./activeColumns.ts";
import { followedBeam } from "./followedBeam.ts";
import { type GroundAnswers, groundAnswers, type HeldGround, type NearGround } from "./heldGround.ts";
import { laidRib, layRib } from "./layRib.ts";
import { projected } from "./projectChange.ts";
import type { ReducedModel, ReducedParameter, StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";
import { ribLoads } from "./ribLoads.ts";
import { trimmedModel } from "./trimmedModel.ts";

/** Half waves of the loads on each line that corrections answer. */
const farWaves = [9, 4, 4] as const;

/** A rib that a reduced model lets be moved: taken off by factor 0 on `parameter`, and laid again by `laidTerm`. Plain data. */
export interface HeldRib {
  readonly parameter: string;
  readonly ground: RibGround;
  /** Columns of the model that feel it. */
  readonly columns: Uint32Array;
  readonly near: NearGround;
  readonly answers: GroundAnswers;
}

/**
 * A rib's being there as a parameter (1: as it lies, 0: taken off) of a structure on n rows; its corrections are static answers to what
 * a rib on any of some lines may do to its plate. Fails as `layRib` does.
 */
export function ribParameter(
  id: string,
  ground: RibGround,
  lines: readonly PanelRib[],
  n: number,
): Outcome<ReducedParameter> {
  const own = layRib(ground, ground.rib);
  if (!own.ok) return own;
  const changes = own.value.map((change) => onRows(negative(change), ground.rows));
  const near = lines.flatMap((line) => ribLoads(ground, line, farWaves));
  const corrections = near.length;
  const loads = new Float64Array(corrections * n);
  near.forEach((load, i) => {
    load.forEach((f, r) => {
      loads[i * n + ground.rows[r]] = f;
    });
  });
  return done({
    id,
    knots: [{ factor: 0, changes }],
    loads,
    corrections,
    probes: 0,
    borrows: null,
    sees: [],
  });
}

/**
 * A model made with `ribParameter` alone, trimmed to what the rib's lying along some lines asks for (those that leave the ground are left
 * out): so many corrections, and probes. Fails as `trimmedModel` does.
 */
export function trimmedToRib(
  model: ReducedModel,
  parameter: string,
  known: HeldGround,
  lines: readonly PanelRib[],
  counts: Pick<ReducedParameter, "corrections" | "probes">,
  source: KernelSource = typescriptKernels,
): Outcome<ReducedModel> {
  const held = heldRib(model, parameter, known, source);
  if (!held.ok) return held;
  const point = [{ parameter, factor: 0 }];
  const places = [];
  for (const line of lines) {
    const laid = laidTerm(held.value, line, source);
    if (laid.ok) places.push({ point, laid: [laid.value] });
    else if (laid.reason !== "rib-outside") return laid;
  }
  return trimmedModel(model, places, counts.corrections, counts.probes, source);
}

/** The rib of a model made with `ribParameter`, ready to be moved. Fails as `groundAnswers` does. */
export function heldRib(
  model: ReducedModel,
  parameter: string,
  held: HeldGround,
  source: KernelSource = typescriptKernels,
): Outcome<HeldRib> {
  const answers = groundAnswers(held, model, source);
  if (!answers.ok) return answers;
  const columns = Uint32Array.from({ length: model.count }, (_, c) => c);
  const { ground, near } = held;
  return done({ parameter, ground, columns, near, answers: answers.value });
}

/** What the rib adds to the model's matrices where it is laid along a line. Fails as `layRib` and `followedBeam` do. */
export function laidTerm(
  { parameter, ground, columns, near, answers }: HeldRib,
  rib: PanelRib,
  source: KernelSource = typescriptKernels,
): Outcome<WeighedTerm> {
  const laid = laidRib(ground, rib);
  if (!laid.ok) return laid;
  const [beam, { stiffness, mass, lossStiffness, motions }] = laid.value;
  const followed = followedBeam(beam, near, answers, columns.length, source);
  if (!followed.ok) return followed;
  const under = projected([stiffness, mass, lossStiffness], motions, answers.vectors, columns.length, source);
  const [k, m, l] = followed.value.map((a, q) => a.map((v, i) => v + under[q][i]));
  const factors = Float64Array.of(0);
  return done({
    term: { parameter, borrows: null, sees: [], factors, columns, stiffness: [k], mass: [m], loss: [l] },
    weights: Float64Array.of(1),
  });
}

function negative(change: StructureChange): StructureChange {
  const less = (a: SparseSymmetric): SparseSymmetric => ({ ...a, values: a.values.map((v) => -v) });
  return {
    motions: change.motions,
    stiffness: less(change.stiffness),
    mass: less(change.mass),
    lossStiffness: less(change.lossStiffness),
  };
}

/** The same change, told in the structure's rows. */
function onRows(change: StructureChange, rows: Uint32Array): StructureChange {
  return { ...change, motions: { ...change.motions, row: change.motions.row.map((r) => rows[r]) } };
}
