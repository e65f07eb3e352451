import { changedMatrix, type ReducedModel } from "#engine/shells";

/** Change of a matrix per unit of relative change of a parameter, at the nominal place; null where nothing is prepared. */
export function termSlope(
  reduced: ReducedModel,
  columns: Uint32Array,
  id: string,
  which: "stiffness" | "mass" | "loss",
): Float64Array | null {
  const term = reduced.terms.find((t) => t.parameter === id);
  if (term === undefined) return null;
  // derivative at 1 of the knots' polynomials, which are zero there
  const weights = term.factors.map((own, k) => {
    let w = 1 / (own - 1);
    term.factors.forEach((other, j) => {
      if (j !== k) w *= (1 - other) / (own - other);
    });
    return w;
  });
  return changedMatrix(columns, null, [{ term, weights }], which);
}
