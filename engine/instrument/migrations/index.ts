/**
 * Brings an older document forward, one version at a time. Every step has a file NNN-....ts and a frozen sample of the
 * version it starts from in samples/; a sample is never edited.
 */

/** One step: from version `from` to `from` + 1. It gets a plain JSON object and returns a new one. */
export interface Migration {
  readonly from: number;
  readonly what: string;
  readonly apply: (document: Readonly<Record<string, unknown>>) => Record<string, unknown>;
}

/** All steps, oldest first. Version 1 is the first that was published, so there is none before it. */
export const migrations: readonly Migration[] = [];

/** Applies the steps from `version` on, and sets the format word after each. */
export function migrateForward(
  document: Readonly<Record<string, unknown>>,
  version: number,
  steps: readonly Migration[],
  formatOf: (version: number) => string,
): Record<string, unknown> {
  let current: Record<string, unknown> = { ...document };
  for (const step of steps.filter((s) => s.from >= version).sort((a, b) => a.from - b.from)) {
    current = { ...step.apply(current), format: formatOf(step.from + 1) };
  }
  return current;
}
