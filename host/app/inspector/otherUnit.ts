import { inUnit, parseQuantity, type QuantityKind } from "#engine/units";
import type { Preferences } from "#host/api";

/** What each kind is measured with in either system; kinds that both share are not here. */
const shopUnits: Partial<Record<QuantityKind, { readonly metric: string; readonly inch: string }>> = {
  length: { metric: "mm", inch: "in" },
  mass: { metric: "g", inch: "oz" },
  force: { metric: "N", inch: "lbf" },
  density: { metric: "kg/m3", inch: "lb/ft3" },
  linearDensity: { metric: "g/m", inch: "lb/in" },
  stress: { metric: "GPa", inch: "Mpsi" },
  springRate: { metric: "N/mm", inch: "lbf/in" },
  temperature: { metric: "C", inch: "F" },
  volume: { metric: "L", inch: "in3" },
};

const inchUnits = new Set(["in", "inch", "inches", '"', "″", "ft", "foot", "feet", "thou", "mil"]);
const poundUnits = new Set([
  "lb",
  "lbs",
  "oz",
  "lbf",
  "lb/ft3",
  "lb/ft³",
  "lb/in",
  "psi",
  "ksi",
  "Mpsi",
  "lbf/in",
  "F",
  "°F",
  "in3",
  "in³",
]);

/**
 * A typed quantity in the maker's own system, where it was typed in the other one: "0.110 in" beside "2.8 mm". null: nothing
 * to show. Four figures are more than a rule or a scale of the shop can tell apart.
 */
export function otherUnit(text: string, kind: QuantityKind, units: Preferences["units"]): string | null {
  const shop = shopUnits[kind];
  const parsed = parseQuantity(text, kind);
  if (shop === undefined || !parsed.ok) return null;
  const typedIn = inchUnits.has(parsed.unit) || poundUnits.has(parsed.unit) ? "inch" : "metric";
  if (typedIn === units) return null;
  const value = inUnit(parsed.value, shop[units]);
  return `${rounded(value, kind === "length" ? (units === "metric" ? 2 : 3) : null)} ${shop[units]}`;
}

function rounded(value: number, decimals: number | null): string {
  if (value === 0) return "0";
  if (decimals !== null && Math.abs(value) >= 10 ** -decimals) return value.toFixed(decimals);
  const magnitude = Math.floor(Math.log10(Math.abs(value)));
  return value.toFixed(Math.min(8, Math.max(0, 3 - magnitude)));
}
