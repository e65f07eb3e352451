import type { CavityField } from "./cavityRecords.ts";

/** Static answers of the air to flows through its walls, beside what the listed modes give. */
export interface StaticField {
  readonly field: CavityField;
  /**
   * columns x n loads (integral of a node's function times outward flow) -> columns x n potentials: the sum over the
   * modes that are not listed of psi (psi . load)/(V lambda), to 1/2000 (the shift).
   */
  residual(loads: Float64Array, columns: number): Float64Array;
  /** columns x count: psi_n . load. */
  coupling(loads: Float64Array, columns: number): Float64Array;
}

/** `solve`: (stiffness + shift mass)^-1 of columns x n loads. */
export function staticField(
  field: CavityField,
  solve: (loads: Float64Array, columns: number) => Float64Array,
): StaticField {
  const { n, volume, shift, modes, lambda } = field;
  const coupling = (loads: Float64Array, columns: number): Float64Array => {
    const out = new Float64Array(columns * lambda.length);
    for (let c = 0; c < columns; c++) {
      for (let m = 0; m < lambda.length; m++) {
        let sum = 0;
        for (let i = 0; i < n; i++) sum += modes[m * n + i] * loads[c * n + i];
        out[c * lambda.length + m] = sum;
      }
    }
    return out;
  };
  const residual = (loads: Float64Array, columns: number): Float64Array => {
    const out = solve(loads, columns);
    const listed = coupling(loads, columns);
    for (let c = 0; c < columns; c++) {
      for (let m = 0; m < lambda.length; m++) {
        const share = listed[c * lambda.length + m] / (volume * (lambda[m] + shift));
        for (let i = 0; i < n; i++) out[c * n + i] -= share * modes[m * n + i];
      }
    }
    return out;
  };
  return { field, residual, coupling };
}
