/** Air around a string: density kg/m3, viscosity Pa s. Default values: 20 C, sea level (memory). */
export interface SurroundingAir {
  readonly density: number;
  readonly viscosity: number;
}

/**
 * Drag of still air on a thin cylinder that vibrates across itself, per unit length and velocity, N s/m2:
 *   R = 2 pi eta + 2 pi d sqrt(pi eta rho f)
 * d diameter m, f frequency Hz, eta viscosity, rho density of the air. The string's loss factor from it is R/(2 pi f mu).
 * Small amplitude only: displacement well under the diameter. Source: CUESTA (form from memory; it reproduces the
 * published air shares, see the proof).
 */
export function airDrag(
  diameter: number,
  frequency: number,
  air: SurroundingAir = { density: 1.204, viscosity: 1.82e-5 },
): number {
  return (
    2 * Math.PI * air.viscosity +
    2 * Math.PI * diameter * Math.sqrt(Math.PI * air.viscosity * air.density * frequency)
  );
}

/** Frequency at which the air's drag, which grows with sqrt(f), is turned into the one constant of the loss form, Hz. */
export const airReference = 300;
