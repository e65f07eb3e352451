import type { CavityField } from "./cavityRecords.ts";
import { addRows, rowProducts } from "./rowProducts.ts";

/** Static answers of the air to flows through its walls, beside what the listed modes give. */
export interface StaticField {
  readonly field: CavityField;
  /**
   * columns x n loads (integral of a node's function times outward flow) -> columns x n potentials: the sum over the
   * modes that are not listed of psi (psi . load)/(V lambda), to 1/2000 (the shift).
   */
  residual(loads: Float64Array): Float64Array;
  /** columns x count: psi_n . load. */
  coupling(loads: Float64Array): Float64Array;
}

/** `solve`: (stiffness + shift mass)^-1 of columns x n loads. */
export function staticField(
  field: CavityField,
  solve: (loads: Float64Array, columns: number) => Float64Array,
): StaticField {
  const { n, volume, shift, modes, lambda } = field;
  const coupling = (loads: Float64Array) => rowProducts(loads, modes, n);
  const residual = (loads: Float64Array): Float64Array => {
    const columns = loads.length / n;
    const out = solve(loads, columns);
    const listed = coupling(loads);
    for (let c = 0; c < columns; c++) {
      for (let m = 0; m < lambda.length; m++) listed[c * lambda.length + m] /= -volume * (lambda[m] + shift);
    }
    addRows(out, listed, modes, n);
    return out;
  };
  return { field, residual, coupling };
}
