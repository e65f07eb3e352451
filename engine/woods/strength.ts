import { celsiusZero } from "#engine/units";
import { catalogueWood } from "./catalogue.ts";
import { strengthAtMoisture } from "./moisture.ts";
import { otherTables, type StrengthRow, strengthRows } from "./strength.data.ts";
import type { SourcedValue } from "./wood.ts";

/**
 * Ways in which solid wood breaks. "bending-along": outer fibres of a piece bent with the grain (modulus of rupture); "rolling-shear":
 * shear of the cross-section, fibres rolling over one another; "compression-across" crushes, it does not part.
 */
export type StrengthKind =
  | "bending-along"
  | "tension-along"
  | "compression-along"
  | "shear-along"
  | "rolling-shear"
  | "tension-across"
  | "compression-across";

/** Strength of a species one way: at 12 % moisture, and green where it is known. Pa. */
export interface WoodStrength {
  readonly species: string;
  readonly kind: StrengthKind;
  readonly dry: SourcedValue;
  readonly green: number | null;
  /** Moisture (fraction) at which the line between both meets the green strength. */
  readonly intersection: number;
}

/** One factor that a strength was multiplied by. */
export interface StrengthFactor {
  readonly name: "moisture" | "temperature" | "time under load";
  readonly factor: number;
  readonly source: string;
}

const column: Readonly<Record<StrengthKind, number>> = {
  "bending-along": 0,
  "tension-along": 0,
  "compression-along": 1,
  "compression-across": 2,
  "shear-along": 3,
  "rolling-shear": 3,
  "tension-across": 4,
};

/** Coefficients of variation between boards of clear wood, WH-MECH table 5-6 (from memory). */
const spread: Readonly<Record<StrengthKind, number>> = {
  "bending-along": 0.16,
  "tension-along": 0.25,
  "compression-along": 0.18,
  "compression-across": 0.28,
  "shear-along": 0.14,
  "rolling-shear": 0.25,
  "tension-across": 0.25,
};

/** Rolling shear over shear along the grain: 0.18 to 0.28 (WH-MECH, from memory), the middle. */
const rollingShare = 0.23;

/** An empty cell of tension across: the median over the modulus of rupture of the rows that have one (0.027 to 0.068). */
const acrossShare = 0.04;

/**
 * Strength of a catalogued species in one way, or null where nothing is at hand (a species not in the table, an empty
 * cell). Small clear straight-grained specimens: knots, runout and the size of the piece are not in it. Tension along: the
 * modulus of rupture stands in, a low estimate (WH-MECH); rolling shear: 0.23 of shear along; an empty cell of tension
 * across: 0.04 of the modulus of rupture. Sources WH-T53, WH-MECH, from memory but for the modulus of rupture.
 */
export function strengthOf(speciesName: string, kind: StrengthKind): WoodStrength | null {
  const record = catalogueWood(speciesName)?.record;
  const rows = record === undefined ? undefined : strengthRows[record.name];
  if (record === undefined || rows === undefined) return null;
  const [green, dry] = rows.map((row) => cell(row, kind));
  if (dry === null || dry === undefined) return null;
  const note = notes[kind];
  const bare = kind === "tension-across" && rows[1][4] === null;
  const read = record.modulusOfRupture;
  const other = otherTables.includes(record.name);
  const table = other ? "from memory" : "WH-T53";
  const taken: SourcedValue =
    read !== null && kind === "bending-along"
      ? read
      : {
          value: column[kind] === 0 && read !== null ? read.value : dry,
          source: table,
          how: bare || kind === "rolling-shear" || kind === "tension-along" ? "derived" : "memory",
          spread: bare ? 0.4 : other ? 1.3 * spread[kind] : spread[kind],
          ...(bare ? { note: emptyAcross } : note === undefined ? {} : { note }),
        };
  return {
    species: record.name,
    kind,
    dry: taken,
    green: green ?? null,
    intersection: record.intersectionMoisture.value,
  };
}

const emptyAcross = "empty cell: 0.04 of the modulus of rupture";
const notes: Partial<Record<StrengthKind, string>> = {
  "tension-along": "modulus of rupture, a low estimate of tension along the grain",
  "rolling-shear": "0.23 of shear along the grain",
  "compression-across": "at the proportional limit: it dents, it does not break",
};

function cell(row: StrengthRow, kind: StrengthKind): number | null {
  const printed = row[column[kind]] ?? null;
  if (kind === "rolling-shear") return printed === null ? null : printed * rollingShare * 1e3;
  if (kind === "tension-across" && printed === null)
    return row[0] === null ? null : row[0] * acrossShare * 1e3;
  return printed === null ? null : printed * 1e3;
}

/**
 * Change of strength from 12 % to 6 % and to 20 % moisture near 20 degrees Celsius: WH-MECH, middle trends of clear wood
 * (from memory). Used where equation 5-3 does not hold (tension across) or the green value is missing.
 */
const trend: Readonly<Record<StrengthKind, readonly [at6: number, at20: number]>> = {
  "bending-along": [0.3, -0.25],
  "tension-along": [0.08, -0.15],
  "compression-along": [0.35, -0.35],
  "shear-along": [0.18, -0.18],
  "rolling-shear": [0.18, -0.18],
  "tension-across": [0.12, -0.2],
  "compression-across": [0.3, -0.3],
};

/** Change of strength at 50 degrees Celsius against 20, near 12 % moisture: WH-MECH (from memory); shear: of wetter wood. */
const warm: Readonly<Record<StrengthKind, number>> = {
  "bending-along": -0.2,
  "tension-along": -0.04,
  "compression-along": -0.25,
  "shear-along": -0.25,
  "rolling-shear": -0.25,
  "tension-across": -0.2,
  "compression-across": -0.35,
};

/**
 * Factor on the strength at 12 % for another moisture (fraction): WH-MECH eq. 5-3 between the 12 % and the green value; for
 * tension across and where no green value is known, straight lines through the middle trends at 6, 12 and 20 %, level
 * below 6 and above 20 %. Range 4 % to green; below 4 % the value at 4 % is kept (very dry wood gains nothing more, and
 * is brittle). Tension along follows its own trend: its stand-in, the modulus of rupture, moves twice as much.
 */
export function moistureFactor(strength: WoodStrength, moisture: number): StrengthFactor {
  const m = Math.max(moisture, 0.04);
  const { kind, green, dry, intersection } = strength;
  if (green !== null && kind !== "tension-across" && kind !== "tension-along") {
    const factor = strengthAtMoisture(dry.value, green, intersection, m) / dry.value;
    return { name: "moisture", factor, source: "WH-MECH eq. 5-3" };
  }
  const [at6, at20] = trend[kind];
  const change = m < 0.12 ? at6 * Math.min(1, (0.12 - m) / 0.06) : at20 * Math.min(1, (m - 0.12) / 0.08);
  return { name: "moisture", factor: 1 + change, source: "WH-MECH middle trends (from memory)" };
}

/**
 * Factor on strength for temperature (K), in proportion to the change at 50 degrees Celsius; immediate and reversible.
 * Range 0 to 66 degrees Celsius (above, wood is harmed for good); below 20 no gain is counted. Null outside.
 */
export function temperatureFactor(kind: StrengthKind, temperature: number): StrengthFactor | null {
  const t = temperature - celsiusZero;
  if (!(t >= 0 && t <= 66)) return null;
  const factor = 1 + warm[kind] * Math.max(0, (t - 20) / 30);
  return { name: "temperature", factor, source: "WH-MECH (from memory)" };
}
