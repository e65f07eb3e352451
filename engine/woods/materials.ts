/** Metals, carbon, bone, finish and glue: materials with one stiffness along the part. */
import { nearestWord } from "#engine/units";
import type { Provenance, SourcedValue } from "./wood.ts";

export interface IsotropicMaterial {
  /** kg/m3 */
  readonly density: number;
  /** Young's modulus, Pa; along the fibres where there are any */
  readonly E: number;
  /** Shear modulus, Pa */
  readonly G: number;
  /** Loss factor of E, dimensionless */
  readonly loss: number;
}

export interface MaterialRecord {
  readonly name: string;
  readonly density: SourcedValue;
  readonly E: SourcedValue;
  readonly G: SourcedValue;
  readonly loss: SourcedValue;
}

function given(value: number, spread: number, source: string, how: Provenance, note?: string): SourcedValue {
  return { value, source, how, spread, ...(note === undefined ? {} : { note }) };
}

function memory(value: number, spread: number, note?: string): SourcedValue {
  return given(value, spread, "from memory", "memory", note);
}

/** The materials known, SI. */
export const materials: readonly MaterialRecord[] = [
  {
    name: "Bone",
    density: memory(1950, 0.05),
    E: memory(17e9, 0.2, "cattle bone along the shaft, dry"),
    G: memory(5e9, 0.25),
    loss: memory(0.02, 0.4),
  },
  {
    name: "Brass",
    density: memory(8500, 0.01),
    E: memory(103e9, 0.05),
    G: memory(38e9, 0.05),
    loss: memory(0.001, 0.5),
  },
  {
    name: "Carbon rod",
    density: given(1500, 0.05, "CFRP-A", "read", "band 1,500 to 1,600 (CFRP-C)"),
    E: given(
      134e9,
      0.15,
      "CFRP-A",
      "read",
      "a supplier's least value; profiles range from 88 to 245 GPa (CFRP-C)",
    ),
    G: memory(5e9, 0.3, "ruled by the resin"),
    loss: memory(0.002, 0.5),
  },
  {
    name: "Finish film",
    density: memory(1200, 0.1, "lacquer or varnish, cured"),
    E: memory(2.5e9, 0.4),
    G: memory(0.9e9, 0.4),
    loss: memory(0.05, 0.5),
  },
  {
    name: "Glue, hide",
    density: memory(1270, 0.05, "dry film; a sound side-grain joint breaks in the wood"),
    E: memory(3e9, 0.3),
    G: memory(1.1e9, 0.3),
    loss: memory(0.03, 0.5),
  },
  {
    name: "Nickel silver",
    density: memory(8700, 0.01),
    E: memory(125e9, 0.05),
    G: memory(47e9, 0.05),
    loss: memory(0.001, 0.5),
  },
  {
    name: "Steel",
    density: memory(7850, 0.005),
    E: given(200e9, 0.03, "A228", "read", "190 to 207 GPa is quoted for music wire"),
    G: memory(79e9, 0.03),
    loss: memory(0.0005, 0.5),
  },
];

/** The material of that name (case does not matter) as plain numbers, or null. */
export function catalogueMaterial(name: string): IsotropicMaterial | null {
  const m = materials.find((one) => one.name.toLowerCase() === name.trim().toLowerCase());
  return m === undefined
    ? null
    : { density: m.density.value, E: m.E.value, G: m.G.value, loss: m.loss.value };
}

/** The material whose name is nearest to a misspelt one, or null. */
export function nearestMaterial(name: string): string | null {
  return nearestWord(
    name,
    materials.map((one) => one.name),
  );
}
