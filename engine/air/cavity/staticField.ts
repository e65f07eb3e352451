import type { CavityField } from "./cavityRecords.ts";
import { rowProducts } from "./rowProducts.ts";

/** Static answers of the air to flows through its walls. */
export interface StaticField {
  readonly field: CavityField;
  /** (stiffness + shift mass)^-1 of columns x n loads (integral of a node's function times outward flow). */
  solve(loads: Float64Array, columns: number): Float64Array;
}

/** columns x count: psi_n . load. */
export function modeCoupling({ modes, n }: CavityField, loads: Float64Array): Float64Array {
  return rowProducts(loads, modes, n);
}

/**
 * Takes the listed modes out of the work of static answers to loads a on loads b (rows x columns, in place):
 *   a . (K + shift M)^-1 b - sum over listed modes of (psi.a)(psi.b)/(V (lambda + shift))
 * given the couplings of both; what is left is the sum over all other modes, to 1/2000 (the shift).
 */
export function takeListed(
  work: Float64Array,
  { volume, lambda, shift }: CavityField,
  a: Float64Array,
  b: Float64Array,
): void {
  const modes = lambda.length;
  const scaled = a.map((v, i) => -v / (volume * (lambda[i % modes] + shift)));
  const share = rowProducts(scaled, b, modes);
  for (let i = 0; i < work.length; i++) work[i] += share[i];
}
