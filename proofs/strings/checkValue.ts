import { readFileSync } from "node:fs";

/** One row of proofs/reference/check-values.json. */
interface CheckValue {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: unknown;
  readonly source: string;
}

const rows: readonly CheckValue[] = JSON.parse(
  readFileSync(new URL("../reference/check-values.json", import.meta.url), "utf8"),
);

/** The row of that id; V is the shape of its value, as the file has it. */
export function checkValue<V>(id: string): Omit<CheckValue, "value"> & { readonly value: V } {
  const row = rows.find((r) => r.id === id);
  if (row === undefined) throw new Error(`no check value ${id}`);
  return row as Omit<CheckValue, "value"> & { readonly value: V };
}

/** Ids that begin with `prefix`. */
export function checkIds(prefix: string): readonly string[] {
  return rows.filter((r) => r.id.startsWith(prefix)).map((r) => r.id);
}
