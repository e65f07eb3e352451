/** From typed to SI: every quantity of the document passes through here, and nowhere else. */
import { invariant } from "#engine/numerics";
import { parseQuantity, type QuantityKind } from "#engine/units";
import type { How, NamedSpecies, UncertainValue } from "../build.ts";
import type { AssumedValue } from "../buildSetup.ts";
import type { Issue } from "../issue.ts";

/** A field that may say how its value is known. */
export type Typed<V> =
  | V
  | { readonly value: V; readonly how: How; readonly spread: string; readonly note?: string | undefined };

/** What gathers while a document is realised: values with a spread, values taken as is usual, species, and faults. */
export interface Ledger {
  readonly uncertain: UncertainValue[];
  readonly assumed: AssumedValue[];
  readonly species: NamedSpecies[];
  readonly issues: Issue[];
}

/** A quantity of the document, or, where it says nothing, the usual one, which is noted as assumed. */
export function orUsual(
  typed: string | undefined,
  kind: QuantityKind,
  usual: string,
  path: string,
  ledger: Ledger,
  because = commonPractice,
): number {
  if (typed === undefined) ledger.assumed.push({ path, value: usual, because });
  return si(typed ?? usual, kind);
}

export const commonPractice = "common practice, no source";

/** SI value of a text that the schema has already passed. */
export function si(text: string, kind: QuantityKind): number {
  const parsed = parseQuantity(text, kind);
  invariant(parsed.ok, () => `"${text}" passed the schema but cannot be read as ${kind}`);
  return parsed.value;
}

export const metres = (text: string): number => si(text, "length");
export const kilograms = (text: string): number => si(text, "mass");
export const radians = (text: string): number => si(text, "angle");

/** A place in plan, m. */
export function point(at: readonly [string, string]): readonly [number, number] {
  return [metres(at[0]), metres(at[1])];
}

/** A chain or polygon x0,y0,x1,y1,... m. */
export function points(list: readonly (readonly [string, string])[]): Float64Array {
  return Float64Array.from(list.flatMap((at) => [...point(at)]));
}

/**
 * Value of a quantity that may carry its origin and spread, written into the ledger. A plain text counts as assumed;
 * its spread is then the usual one, a share of the value (engineering judgement: see usualSpread).
 */
export function uncertain(
  typed: Typed<string>,
  kind: QuantityKind,
  usual: number,
  path: string,
  buildPath: string | null,
  ledger: Ledger,
): number {
  const plain = typeof typed === "string";
  const value = si(plain ? typed : typed.value, kind);
  const spread = plain ? usual * Math.abs(value) : spreadOf(typed.spread, value, kind);
  ledger.uncertain.push({ path, buildPath, value, spread, how: plain ? "assumed" : typed.how });
  return value;
}

/** The same for a plain number. */
export function uncertainNumber(
  typed: Typed<number>,
  usual: number,
  path: string,
  buildPath: string | null,
  ledger: Ledger,
): number {
  const plain = typeof typed === "number";
  const value = plain ? typed : typed.value;
  const spread = plain ? usual * Math.abs(value) : spreadOf(typed.spread, value, "ratio");
  ledger.uncertain.push({ path, buildPath, value, spread, how: plain ? "assumed" : typed.how });
  return value;
}

function spreadOf(text: string, value: number, kind: QuantityKind): number {
  const share = parseQuantity(text, "ratio");
  return share.ok ? share.value * Math.abs(value) : si(text, kind);
}

/** Spread of a value that is typed without one, as a share of it: engineering judgement, no source. */
export const usualSpread = {
  density: 0.1,
  stiffnessAlong: 0.2,
  stiffnessAcross: 0.3,
  shear: 0.3,
  poisson: 0.2,
  loss: 0.5,
  plateThickness: 0.04,
  film: 0.3,
  mass: 0.1,
  unitWeight: 0.02,
  breakingForce: 0.1,
  rodStiffness: 0.1,
} as const;
