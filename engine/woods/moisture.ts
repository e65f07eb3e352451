/**
 * Moisture content is the mass of water over the mass of oven-dry wood, as a fraction (12 % = 0.12).
 */
import { done, failed, type Outcome } from "#engine/numerics";
import { celsiusZero } from "#engine/units";
import type { OrthotropicWood } from "./wood.ts";

/** Moisture content at which the cell walls are full, in the linear relation of shrinkage (WH-MOIST). */
const fibreSaturation = 0.3;
/** The tables' moisture content. */
const tableMoisture = 0.12;
/** Density of water as the handbook's specific gravity takes it, kg/m3. */
const waterDensity = 1000;

/**
 * Equilibrium moisture content (fraction) of wood in air (Hailwood and Horrobin's form), WH-EMC eq. 4-5:
 *   M = 18/W [ K h/(1 - K h) + (K1 K h + 2 K1 K2 K2 h2)/(1 + K1 K h + K1 K2 K2 h2) ]   (K2 h2 here: K squared, h squared)
 * W, K, K1, K2 quadratic in the temperature in degrees Celsius; h = relative humidity as a fraction.
 * Range: -1.1 to 132 degrees Celsius, 0 to 0.95; the older tabulated values differ by up to 0.4 % moisture.
 * Fails with 'out-of-range'. `temperature` in K.
 */
export function equilibriumMoisture(temperature: number, relativeHumidity: number): Outcome<number> {
  const t = temperature - celsiusZero;
  const h = relativeHumidity;
  if (!(t >= -1.2 && t <= 132.3))
    return failed("out-of-range", `${t.toFixed(1)} degrees Celsius is not within -1.1 to 132`);
  if (!(h >= 0 && h <= 0.95))
    return failed("out-of-range", `a relative humidity of ${h} is not within 0 to 0.95`);
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const a = k * h;
  const b = k1 * k * h;
  const c = k1 * k2 * k * k * h * h;
  return done((18 / w) * (a / (1 - a) + (b + 2 * c) / (1 + b + c)));
}

/**
 * Strength or stiffness of clear wood at moisture m from its values at 12 % and green, WH-MECH eq. 5-3:
 *   P = P12 (P12/Pg)^((0.12 - m)/(Mp - 0.12))
 * Mp = intersection moisture content of the species. Above Mp the green value holds. Not for toughness or tension
 * across the grain. Range: below Mp, from about 4 % (common use of the handbook: not below).
 */
export function strengthAtMoisture(
  p12: number,
  pGreen: number,
  intersection: number,
  moisture: number,
): number {
  if (moisture >= intersection) return pGreen;
  return p12 * (p12 / pGreen) ** ((tableMoisture - moisture) / (intersection - tableMoisture));
}

/** Specific gravity on the volume at moisture m from that on the green volume, WH-MOIST eq. 4-13. */
function gravityAt(basic: number, moisture: number): number {
  return basic / (1 - 0.265 * basic * (1 - Math.min(moisture, fibreSaturation) / fibreSaturation));
}

/**
 * Density (kg/m3, water included) at moisture `to` of wood that has `density` at moisture `from`, WH-MOIST eq. 4-13
 * and 4-14: rho = 1000 G (1 + m), G = Gb/(1 - 0.265 Gb (1 - m/0.30)). The shrinkage in it is the average wood's.
 */
export function densityAtMoisture(density: number, from: number, to: number): number {
  const gravity = density / (waterDensity * (1 + from));
  const dry = 0.265 * (1 - Math.min(from, fibreSaturation) / fibreSaturation);
  const basic = gravity / (1 + dry * gravity);
  return waterDensity * gravityAt(basic, to) * (1 + to);
}

/**
 * Shrinkage, as a fraction of the green dimension, when the moisture falls from `from` to `to` (negative: swelling);
 * `total` = shrinkage from green to oven-dry. Linear below 30 % (WH-MOIST): S = total (from - to)/0.30.
 */
export function shrinkage(total: number, from: number, to: number): number {
  const clipped = (m: number) => Math.min(m, fibreSaturation);
  return (total * (clipped(from) - clipped(to))) / fibreSaturation;
}

/**
 * Relative change of each constant for one per cent more moisture, between about 4 and 20 %: the middle of the ranges
 * EL -1 to -2 %, across and in shear -2 to -3 %, from memory; damping: from memory, not well known.
 */
const changePerPercent = { along: -0.015, across: -0.025, loss: 0.025 } as const;

/**
 * A plate at another moisture content. Each modulus and loss factor follows exp(rate x change), the form of eq. 5-3, the
 * density eq. 4-13 and 4-14; nuLR stays. Rates from memory, true to about a third. Range 4 to 20 % at both ends.
 * `from` is the moisture at which `wood` holds; 12 % as in the tables if not given. Fails with 'out-of-range'.
 */
export function atMoisture(
  wood: OrthotropicWood,
  moisture: number,
  from = tableMoisture,
): Outcome<OrthotropicWood> {
  for (const m of [from, moisture]) {
    if (!(m >= 0.04 && m <= 0.2))
      return failed("out-of-range", `a moisture content of ${m} is not within 0.04 to 0.20`);
  }
  const per = 100 * (moisture - from);
  const along = Math.exp(changePerPercent.along * per);
  const across = Math.exp(changePerPercent.across * per);
  const loss = Math.exp(changePerPercent.loss * per);
  return done({
    density: densityAtMoisture(wood.density, from, moisture),
    EL: wood.EL * along,
    ER: wood.ER * across,
    nuLR: wood.nuLR,
    GLR: wood.GLR * across,
    GLT: wood.GLT * across,
    GRT: wood.GRT * across,
    loss: {
      L: wood.loss.L * loss,
      R: wood.loss.R * loss,
      LR: wood.loss.LR * loss,
      transverse: wood.loss.transverse * loss,
    },
  });
}
