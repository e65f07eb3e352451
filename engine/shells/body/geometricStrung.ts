import type { Polygon } from "#engine/geometry";
import { type Context, done, type Outcome, type SparseSymmetric } from "#engine/numerics";
import type { BodySystem, SpringTerm } from "./bodyModel.ts";
import { type BodyForces, bodyFacets, bodyForces } from "./geometricForces.ts";
import { bodyGeometric } from "./geometricStiffness.ts";
import { type StringPull, stringLoads, stringTerms } from "./staticLoads.ts";
import { type BodyStatic, bodyStatic } from "./staticSolution.ts";

/** The body under its strings at pitch. */
export interface StrungBody {
  readonly solution: BodyStatic;
  readonly forces: BodyForces;
  /** KG, on the pattern of the stiffness, and the strings' own part of it. */
  readonly geometric: SparseSymmetric;
  readonly strings: readonly SpringTerm[];
}

/** Static solution, forces and geometric stiffness under the strings. Fails as `bodyStatic` and `pointRows` do. */
export function strungBody(
  system: BodySystem,
  pulls: readonly StringPull[],
  footprint: Polygon,
  ctx: Context,
  analysis?: Parameters<typeof bodyStatic>[3],
): Outcome<StrungBody> {
  const solved = bodyStatic(system, [stringLoads(system, pulls, footprint)], ctx, analysis);
  return solved.ok ? strungUnder(system, pulls, solved.value[0]) : solved;
}

/** The same from the strings' static solution. Fails as `pointRows` does. */
export function strungUnder<S extends Pick<BodyStatic, "motion">>(
  system: BodySystem,
  pulls: readonly StringPull[],
  solution: S,
): Outcome<Omit<StrungBody, "solution"> & { readonly solution: S }> {
  const strings = stringTerms(system, pulls);
  if (!strings.ok) return strings;
  const facets = bodyFacets(system);
  const forces = bodyForces(system, solution.motion, facets);
  const geometric = bodyGeometric(system, forces, solution.motion, facets);
  return done({ solution, forces, geometric, strings: strings.value });
}

/**
 * The same body with the stiffness it has under its strings, K + share x KG, for its modes. The strings' own stiffness
 * across themselves joins `springs`, which modes leave out: without it the body turns as a whole as if pressed by forces
 * fixed in space, at some hertz or its imaginary counterpart, far below every elastic mode.
 */
export function loadedSystem(
  system: BodySystem,
  { geometric, strings }: Pick<StrungBody, "geometric" | "strings">,
  share = 1,
): BodySystem {
  const { stiffness } = system;
  const values = stiffness.values.map((v, k) => v + share * geometric.values[k]);
  return {
    ...system,
    stiffness: { ...stiffness, values },
    springs: [...system.springs, ...strings.map((s) => ({ ...s, stiffness: share * s.stiffness }))],
  };
}
