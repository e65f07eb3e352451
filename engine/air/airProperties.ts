import { invariant } from "#engine/numerics";

export interface AirState {
  /** K; the polynomials hold from 273 to 303 K. */
  readonly temperature: number;
  /** Pa; from 75 to 102 kPa. */
  readonly pressure: number;
  /** 0 to 1. */
  readonly relativeHumidity: number;
}

export interface AirProperties {
  /** kg/m3. */
  readonly density: number;
  /** m/s at zero frequency. */
  readonly soundSpeed: number;
  /** Ratio of the specific heats. */
  readonly heatRatio: number;
  /** Pa s. */
  readonly viscosity: number;
  /** m2/s. */
  readonly thermalDiffusivity: number;
}

/** Mole fraction of carbon dioxide in laboratory air (IEC-61094, table F.1). */
const CARBON_DIOXIDE = 0.0004;

const SOUND_SPEED = [
  331.5024, 0.603055, -0.000528, 51.471935, 0.1495874, -0.000782, -1.82e-7, 3.73e-8, -2.93e-10, -85.20931,
  -0.228525, 5.91e-5, -2.835149, -2.15e-13, 29.179762, 0.000486,
] as const;

const HEAT_RATIO = [
  1.400822, -1.75e-5, -1.73e-7, -0.0873629, -0.0001665, -3.26e-6, 2.047e-8, -1.26e-10, 5.939e-14, -0.1199717,
  -0.0008693, 1.979e-6, -0.01104, -3.478e-16, 0.0450616, 1.82e-6,
] as const;

/**
 * Moist air. With t in degrees C, T in K, p in Pa, xw and xc the mole fractions of water vapour and carbon dioxide:
 *   xw  = RH f psv / p,  psv = exp(1.2378847e-5 T2 - 1.9121316e-2 T + 33.93711047 - 6343.1645/T),  f = 1.00062 + 3.14e-8 p + 5.6e-7 t2
 *   rho = (3.48374 + 1.4446 (xc - 0.0004)) 1e-3 p/(Z T) (1 - 0.378 xw),  Z the compressibility
 *   c, gamma: polynomials in t, xw, p, xc of one form
 * Valid from 0 to 30 C, 75 to 102 kPa, any humidity (c to 300 ppm in its source). Throws below 200 K or at negative
 * pressure or humidity: such values are ours, the document refuses them earlier.
 * Sources: CRAMER-1993 (c, gamma), IEC-61094 annex F (rho; viscosity and diffusivity from memory, checked on its table F.1).
 */
export function airProperties(state: AirState): AirProperties {
  const { temperature: T, pressure: p, relativeHumidity } = state;
  invariant(T > 200 && p > 0 && relativeHumidity >= 0 && relativeHumidity <= 1, () => JSON.stringify(state));
  const t = T - 273.15;
  const xc = CARBON_DIOXIDE;
  const saturation = Math.exp(1.2378847e-5 * T * T - 1.9121316e-2 * T + 33.93711047 - 6343.1645 / T);
  const xw = (relativeHumidity * saturation * (1.00062 + 3.14e-8 * p + 5.6e-7 * t * t)) / p;

  const pt = p / T;
  const first = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t;
  const vapour = (5.707e-6 - 2.051e-8 * t) * xw + (1.9898e-4 - 2.376e-6 * t) * xw * xw;
  const Z = 1 - pt * (first + vapour) + pt * pt * (1.83e-11 - 0.765e-8 * xw * xw);
  const density = ((3.48374 + 1.4446 * (xc - 0.0004)) * 1e-3 * pt * (1 - 0.378 * xw)) / Z;

  const viscosity = 1e-8 * (84.986 + 7 * T + (113.157 - T) * xw - 3.7501e-3 * T * T - 100.015 * xw * xw);
  // Heat conductivity and specific heat of the standard are in calories.
  const conductivity = 1e-8 * (60.054 + 1.846 * T + 2.06e-6 * T * T + (40 - 1.775e-4 * T) * xw);
  const specificHeat =
    0.251625 -
    9.2525e-5 * T +
    2.1334e-7 * T * T -
    1.0043e-10 * T ** 3 +
    (0.12477 - 2.283e-5 * T + 1.267e-7 * T * T) * xw +
    (0.01116 + 4.61e-6 * T + 1.74e-8 * T * T) * xw * xw;
  return {
    density,
    soundSpeed: moistPolynomial(SOUND_SPEED, t, p, xw, xc),
    heatRatio: moistPolynomial(HEAT_RATIO, t, p, xw, xc),
    viscosity,
    thermalDiffusivity: conductivity / (density * specificHeat),
  };
}

/** a0 + a1 t + a2 t2 + (a3 + a4 t + a5 t2) xw + (a6 + a7 t + a8 t2) p + (a9 + a10 t + a11 t2) xc + a12 xw2 + a13 p2 + a14 xc2 + a15 xw p xc. */
function moistPolynomial(a: readonly number[], t: number, p: number, xw: number, xc: number): number {
  const quadratic = (k: number) => a[k] + a[k + 1] * t + a[k + 2] * t * t;
  return (
    quadratic(0) +
    quadratic(3) * xw +
    quadratic(6) * p +
    quadratic(9) * xc +
    a[12] * xw * xw +
    a[13] * p * p +
    a[14] * xc * xc +
    a[15] * xw * p * xc
  );
}
