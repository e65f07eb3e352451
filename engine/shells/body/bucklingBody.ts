import type { Context, Outcome, SparseSymmetric } from "#engine/numerics";
import type { BodySystem, SpringTerm } from "./bodyModel.ts";
import { type Buckling, bucklingFactors } from "./bucklingFactors.ts";
import { supportedStiffness } from "./staticSupports.ts";

/**
 * Linear buckling of the body under the load whose geometric stiffness is given (`bodyGeometric`, with the strings' own
 * terms): factors on that load. Shapes by row. A free body's supports carry nothing in a shape that buckles by itself. Fails as
 * `bucklingFactors` does.
 */
export function bodyBuckling(
  system: BodySystem,
  geometric: SparseSymmetric,
  strings: readonly SpringTerm[],
  count: number,
  ctx: Context,
): Outcome<Buckling> {
  return bucklingFactors(
    supportedStiffness(system),
    geometric,
    { count, group: system.group, springs: strings },
    ctx,
  );
}
