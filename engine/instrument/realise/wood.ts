import {
  catalogueWood,
  nearestSpecies,
  type OrthotropicWood,
  type SourcedValue,
  type SpeciesRecord,
  species,
  woodFaults,
} from "#engine/woods";
import type { Issue } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";
import { type Ledger, type Typed, uncertain, uncertainNumber, usualSpread } from "./reading.ts";

type WoodEntry = InstrumentDocument["top"]["wood"];
type Board = Exclude<WoodEntry, string>;

/** Which values of a wood enter the list of uncertain ones: all of a plate's, density and stiffness of a brace's. */
export type WoodDetail = "all" | "brace" | "none";

interface Property {
  readonly key: keyof Board & string;
  readonly build: string;
  readonly of: (record: SpeciesRecord) => SourcedValue;
  readonly kind: "density" | "stress" | "number";
  readonly usual: number;
}

const properties: readonly Property[] = [
  { key: "density", build: "density", of: (s) => s.density, kind: "density", usual: usualSpread.density },
  { key: "stiffnessAlong", build: "EL", of: (s) => s.EL, kind: "stress", usual: usualSpread.stiffnessAlong },
  {
    key: "stiffnessAcross",
    build: "ER",
    of: (s) => s.ER,
    kind: "stress",
    usual: usualSpread.stiffnessAcross,
  },
  { key: "shearInPlane", build: "GLR", of: (s) => s.GLR, kind: "stress", usual: usualSpread.shear },
  { key: "shearAlongThrough", build: "GLT", of: (s) => s.GLT, kind: "stress", usual: usualSpread.shear },
  { key: "shearAcrossThrough", build: "GRT", of: (s) => s.GRT, kind: "stress", usual: usualSpread.shear },
  { key: "poisson", build: "nuLR", of: (s) => s.nuLR, kind: "number", usual: usualSpread.poisson },
  { key: "lossAlong", build: "loss.L", of: (s) => s.loss.L, kind: "number", usual: usualSpread.loss },
  { key: "lossAcross", build: "loss.R", of: (s) => s.loss.R, kind: "number", usual: usualSpread.loss },
  { key: "lossShear", build: "loss.LR", of: (s) => s.loss.LR, kind: "number", usual: usualSpread.loss },
  {
    key: "lossThrough",
    build: "loss.transverse",
    of: (s) => s.loss.transverse,
    kind: "number",
    usual: usualSpread.loss,
  },
];

/**
 * The wood of one part: what the board says, the rest from its species. `path` is its place in the document,
 * `buildPath` that in the build. On a fault an issue is written and the species' (or a neutral) value stands in, so that
 * the remaining faults of the document are found too; such a build is never handed out.
 */
export function realiseWood(
  entry: WoodEntry,
  path: string,
  buildPath: string,
  detail: WoodDetail,
  ledger: Ledger,
): OrthotropicWood {
  const board: Board = typeof entry === "string" ? { species: entry } : entry;
  const record = board.species === undefined ? null : (catalogueWood(board.species)?.record ?? null);
  if (board.species !== undefined && record === null) {
    ledger.issues.push(unknownSpecies(board.species, typeof entry === "string" ? path : `${path}.species`));
    return neutral;
  }
  const missing =
    record === null ? properties.filter((p) => board[p.key] === undefined).map((p) => p.key) : [];
  if (missing.length > 0) {
    ledger.issues.push({
      code: "wood-incomplete",
      path,
      message: `Without a species every value of the wood must be given; missing: ${missing.join(", ")}.`,
      allowed: "a species, or every value",
      example: '"species": "Spruce, Sitka"',
      severity: "stop",
    });
    return neutral;
  }

  ledger.species.push({ path, species: record?.name ?? null });
  const values = new Map<string, number>();
  for (const property of properties) {
    const listed =
      detail === "all" ||
      (detail === "brace" && (property.key === "density" || property.key === "stiffnessAlong"));
    const into: Ledger = listed ? ledger : { ...ledger, uncertain: [] };
    values.set(property.build, readProperty(board, record, property, path, buildPath, into));
  }
  const at = (name: string): number => values.get(name) ?? Number.NaN;
  const wood: OrthotropicWood = {
    density: at("density"),
    EL: at("EL"),
    ER: at("ER"),
    nuLR: at("nuLR"),
    GLR: at("GLR"),
    GLT: at("GLT"),
    GRT: at("GRT"),
    loss: { L: at("loss.L"), R: at("loss.R"), LR: at("loss.LR"), transverse: at("loss.transverse") },
  };
  for (const fault of woodFaults(wood)) {
    ledger.issues.push({
      code: "wood-impossible",
      path,
      message: `No wood can be like this: ${fault}.`,
      remedy: "Look for a slip in the units or the power of ten.",
      severity: "stop",
    });
  }
  return wood;
}

function readProperty(
  board: Board,
  record: SpeciesRecord | null,
  property: Property,
  path: string,
  buildPath: string,
  ledger: Ledger,
): number {
  const given = board[property.key];
  const where = `${path}.${property.key}`;
  const into = `${buildPath}.${property.build}`;
  if (given === undefined) {
    const sourced = record === null ? null : property.of(record);
    if (sourced === null) return Number.NaN;
    ledger.uncertain.push({
      path: where,
      buildPath: into,
      value: sourced.value,
      spread: sourced.spread * Math.abs(sourced.value),
      how: sourced.how === "assumed" ? "assumed" : "catalogue",
    });
    return sourced.value;
  }
  if (property.kind === "number")
    return uncertainNumber(given as Typed<number>, property.usual, where, into, ledger);
  return uncertain(given as Typed<string>, property.kind, property.usual, where, into, ledger);
}

function unknownSpecies(name: string, path: string): Issue {
  const near = nearestSpecies(name);
  return {
    code: "wood-unknown",
    path,
    message: `The wood table has no species "${name}"${near === null ? "." : `; did you mean "${near}"?`}`,
    found: JSON.stringify(name),
    allowed: `a species of the table (${species.length} of them: ${species
      .slice(0, 6)
      .map((s) => s.name)
      .join("; ")}; ...), or every value of the wood without a species`,
    example: JSON.stringify(near ?? species[0]?.name ?? ""),
    severity: "stop",
  };
}

/** Stands in for a wood that could not be read, so that the other checks still run. */
const neutral: OrthotropicWood = {
  density: 400,
  EL: 10e9,
  ER: 0.8e9,
  nuLR: 0.37,
  GLR: 0.7e9,
  GLT: 0.6e9,
  GRT: 0.05e9,
  loss: { L: 0.007, R: 0.02, LR: 0.016, transverse: 0.02 },
};
