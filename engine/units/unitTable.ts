/**
 * The only conversion factors of the engine: every unit a maker may type, and what one of it is in SI.
 * Factors are exact by definition (inch, pound and foot: international yard and pound agreement of 1959;
 * pound-force and kilogram-force through standard gravity) or exact decimal multiples.
 */
import { celsiusZero, standardGravity } from "./constants.ts";

export type QuantityKind =
  | "length"
  | "angle"
  | "mass"
  | "force"
  | "density"
  | "linearDensity"
  | "massPerArea"
  | "stress"
  | "springRate"
  | "frequency"
  | "temperature"
  | "humidity"
  | "ratio"
  | "duration"
  | "volume";

export interface Unit {
  readonly kind: QuantityKind;
  /** SI value = (typed + offset) * factor. */
  readonly factor: number;
  readonly offset: number;
}

/** What a kind is called in a message, its SI unit and an example of how to type it. */
export interface KindWords {
  readonly words: string;
  readonly si: string;
  readonly example: string;
}

export const kindWords: Readonly<Record<QuantityKind, KindWords>> = {
  length: { words: "a length", si: "m", example: "647.7 mm" },
  angle: { words: "an angle", si: "rad", example: "12 deg" },
  mass: { words: "a mass", si: "kg", example: "28 g" },
  force: { words: "a force", si: "N", example: "18 lbf" },
  density: { words: "a density", si: "kg/m3", example: "0.41 g/cm3" },
  linearDensity: { words: "a mass per length", si: "kg/m", example: "6.2 g/m" },
  massPerArea: { words: "a mass per area", si: "kg/m2", example: "120 g/m2" },
  stress: { words: "a stiffness or stress", si: "Pa", example: "11.2 GPa" },
  springRate: { words: "a force per deflection", si: "N/m", example: "4.2 N/mm" },
  frequency: { words: "a frequency", si: "Hz", example: "98 Hz" },
  temperature: { words: "a temperature", si: "K", example: "21 C" },
  humidity: { words: "a relative humidity", si: "fraction", example: "45 %RH" },
  ratio: { words: "a percentage", si: "fraction", example: "12 %" },
  duration: { words: "a time", si: "s", example: "20 h" },
  volume: { words: "a volume", si: "m3", example: "14.2 L" },
};

const inch = 0.0254;
const foot = 12 * inch;
const pound = 0.453_592_37;
const poundForce = pound * standardGravity;
const psi = poundForce / inch ** 2;
const degree = Math.PI / 180;

const rows: readonly (readonly [QuantityKind, number, readonly string[]])[] = [
  ["length", 1, ["m"]],
  ["length", 1e-2, ["cm"]],
  ["length", 1e-3, ["mm"]],
  ["length", 1e-6, ["um", "µm", "μm"]],
  ["length", inch, ["in", "inch", "inches", '"', "″"]],
  ["length", foot, ["ft", "foot", "feet"]],
  ["length", inch / 1000, ["thou", "mil"]],
  ["angle", 1, ["rad"]],
  ["angle", degree, ["deg", "degree", "degrees", "°"]],
  ["mass", 1, ["kg"]],
  ["mass", 1e-3, ["g"]],
  ["mass", 1e-6, ["mg"]],
  ["mass", pound, ["lb", "lbs"]],
  ["mass", pound / 16, ["oz"]],
  ["force", 1, ["N"]],
  ["force", 1e3, ["kN"]],
  ["force", poundForce, ["lbf"]],
  ["force", standardGravity, ["kgf"]],
  ["density", 1, ["kg/m3", "kg/m³"]],
  ["density", 1e3, ["g/cm3", "g/cm³", "g/cc"]],
  ["density", pound / foot ** 3, ["lb/ft3", "lb/ft³"]],
  ["linearDensity", 1, ["kg/m"]],
  ["linearDensity", 1e-3, ["g/m"]],
  ["linearDensity", 1e-6, ["mg/m"]],
  ["linearDensity", pound / inch, ["lb/in"]],
  ["massPerArea", 1, ["kg/m2", "kg/m²"]],
  ["massPerArea", 1e-3, ["g/m2", "g/m²"]],
  ["stress", 1, ["Pa"]],
  ["stress", 1e3, ["kPa"]],
  ["stress", 1e6, ["MPa", "N/mm2", "N/mm²"]],
  ["stress", 1e9, ["GPa"]],
  ["stress", 100, ["hPa", "mbar"]],
  ["stress", psi, ["psi"]],
  ["stress", 1e3 * psi, ["ksi"]],
  ["stress", 1e6 * psi, ["Mpsi"]],
  ["springRate", 1, ["N/m"]],
  ["springRate", 1e3, ["N/mm"]],
  ["springRate", poundForce / inch, ["lbf/in"]],
  ["frequency", 1, ["Hz"]],
  ["frequency", 1e3, ["kHz"]],
  ["temperature", 1, ["K"]],
  ["humidity", 1e-2, ["%RH", "% RH"]],
  ["ratio", 1e-2, ["%"]],
  ["duration", 1, ["s"]],
  ["duration", 60, ["min"]],
  ["duration", 3600, ["h"]],
  ["duration", 86_400, ["d", "day", "days"]],
  ["duration", 604_800, ["week", "weeks"]],
  ["volume", 1, ["m3", "m³"]],
  ["volume", 1e-3, ["L", "l"]],
  ["volume", 1e-6, ["cm3", "cm³", "ml"]],
  ["volume", inch ** 3, ["in3", "in³"]],
];

/** Every unit by the way it is typed; the case of letters counts (mPa is not MPa). */
export const unitsBySymbol: ReadonlyMap<string, Unit> = new Map<string, Unit>([
  ...rows.flatMap(([kind, factor, symbols]) =>
    symbols.map((symbol) => [symbol, { kind, factor, offset: 0 }] as const),
  ),
  ...["C", "°C"].map((symbol) => [symbol, { kind: "temperature", factor: 1, offset: celsiusZero }] as const),
  ...["F", "°F"].map((symbol) => [symbol, { kind: "temperature", factor: 5 / 9, offset: 459.67 }] as const),
]);

/** The units of one kind as typed, first the commonest: "m, cm, mm, ...". */
export function unitsOf(kind: QuantityKind): readonly string[] {
  return [...unitsBySymbol].filter(([, unit]) => unit.kind === kind).map(([symbol]) => symbol);
}

/**
 * A pattern for the JSON Schema, so that an editor can warn early: a number as `parseQuantity` reads it, and a unit of
 * the kind. It does not hold the limits on size; parseQuantity does.
 */
export function quantityPattern(kind: QuantityKind): string {
  const units = unitsOf(kind).map((symbol) => symbol.replaceAll("/", "\\/"));
  return `^\\s*[+\\-−–]?\\s*(\\d+(\\.\\d+)?([eE][+\\-]?\\d+)?|(\\d+[ \\-])?\\d+\\/\\d+)\\s*(${units.join("|")})\\s*$`;
}
