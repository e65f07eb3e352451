/** Scratch stores and documents for tests. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { openStore } from "./openStore.ts";
import type { Store, StoreOptions } from "./store.ts";

const ladder = readFileSync(new URL("../../examples/small-ladder.fairbout.json", import.meta.url), "utf8");

/** A valid document; another for every number. */
export const documentNumber = (n: number): string =>
  ladder.replace(/"name": "Small ladder"/, `"name": "Small ladder ${n}"`);

/** An id as a page makes them, the same for the same number. */
export const idNumber = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`;

export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-store-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A clock that moves on by a second with every look at it. */
export function steppingClock(): () => Date {
  let time = Date.UTC(2026, 10, 26, 12);
  return () => {
    time += 1000;
    return new Date(time);
  };
}

/** Opens a store, and closes it after the test if the test has not. */
export function openScratch(folder: string, rest: Partial<StoreOptions> = {}): Store {
  const opened = openStore({ folder, clock: steppingClock(), ...rest });
  if (!opened.ok) throw new Error(opened.message);
  let closing: Promise<void> | null = null;
  const { store } = opened;
  const close = store.close.bind(store);
  store.close = () => {
    closing ??= close();
    return closing;
  };
  onTestFinished(() => store.close());
  return store;
}

/** What a store answered, or a failed test. */
export function value<T>(
  kept:
    | { readonly ok: true; readonly value: T }
    | { readonly ok: false; readonly trouble: { message: string } },
): T {
  if (!kept.ok) throw new Error(kept.trouble.message);
  return kept.value;
}
