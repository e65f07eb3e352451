import {
  done,
  type KernelSource,
  type Outcome,
  type SparseSymmetric,
  typescriptKernels,
} from "#engine/numerics";
import type { PanelRib } from "../panel.ts";
import type { WeighedTerm } from "./activeColumns.ts";
import { layRib } from "./layRib.ts";
import { packedLength, projected } from "./projectChange.ts";
import type { ReducedModel, ReducedParameter, StructureChange } from "./reducedModel.ts";
import type { RibGround } from "./ribGround.ts";
import { ribLoads } from "./ribLoads.ts";
import { trimmedModel } from "./trimmedModel.ts";

/** A rib that a reduced model lets be moved: taken off by factor 0 on `parameter`, and laid again by `laidTerm`. Plain data. */
export interface HeldRib {
  readonly parameter: string;
  readonly ground: RibGround;
  /** Columns of the model that feel it. */
  readonly columns: Uint32Array;
  /** columns x rows of the ground. */
  readonly vectors: Float64Array;
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
  const loads = ribLoads(ground, lines, n);
  const corrections = loads.length / n;
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
  ground: RibGround,
  lines: readonly PanelRib[],
  counts: Pick<ReducedParameter, "corrections" | "probes">,
  source: KernelSource = typescriptKernels,
): Outcome<ReducedModel> {
  const held = heldRib(model, parameter, ground);
  const point = [{ parameter, factor: 0 }];
  const places = lines.flatMap((line) => {
    const laid = laidTerm(held, line, source);
    return laid.ok ? [{ point, laid: [laid.value] }] : [];
  });
  return trimmedModel(model, places, counts.corrections, counts.probes, source);
}

/** The rib of a model made with `ribParameter`, ready to be moved. */
export function heldRib(model: ReducedModel, parameter: string, ground: RibGround): HeldRib {
  const term = model.terms.find((t) => t.parameter === parameter);
  const columns = term?.columns ?? new Uint32Array(0);
  const { rows } = ground;
  const n = model.vectors.length / model.count;
  const vectors = new Float64Array(columns.length * rows.length);
  columns.forEach((c, i) => {
    for (let r = 0; r < rows.length; r++) vectors[i * rows.length + r] = model.vectors[c * n + rows[r]];
  });
  return { parameter, ground, columns, vectors };
}

/** What the rib adds to the model's matrices where it is laid along a line. Fails as `layRib` does. */
export function laidTerm(
  { parameter, ground, columns, vectors }: HeldRib,
  rib: PanelRib,
  source: KernelSource = typescriptKernels,
): Outcome<WeighedTerm> {
  const laid = layRib(ground, rib);
  if (!laid.ok) return laid;
  const sums = [0, 1, 2].map(() => new Float64Array(packedLength(columns.length)));
  for (const { stiffness, mass, lossStiffness, motions } of laid.value) {
    const parts = projected([stiffness, mass, lossStiffness], motions, vectors, columns.length, source);
    parts.forEach((a, q) => {
      const to = sums[q];
      for (let i = 0; i < a.length; i++) to[i] += a[i];
    });
  }
  const [stiffness, mass, loss] = sums;
  const factors = Float64Array.of(0);
  return done({
    term: {
      parameter,
      borrows: null,
      sees: [],
      factors,
      columns,
      stiffness: [stiffness],
      mass: [mass],
      loss: [loss],
    },
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
