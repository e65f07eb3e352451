/** How a computation that may fail hands back its result, and how it hears of cancelling. */
import type { KernelSource } from "./kernels/kernels.ts";

export interface Warning {
  readonly code: string;
  readonly detail: string;
}

/** A result or an honest reason why there is none. The compiler makes the caller open it. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Warning[] }
  | { readonly ok: false; readonly reason: string; readonly detail: string };

export function done<T>(value: T, warnings: readonly Warning[] = []): Outcome<T> {
  return { ok: true, value, warnings };
}

export function failed(reason: string, detail: string): Outcome<never> {
  return { ok: false, reason, detail };
}

/** The value, or an Error with the reason and detail. For tests, proofs, timings and examples only. */
export function opened<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(`${outcome.reason}: ${outcome.detail}`);
}

/** Progress out (0 to 1) and cancelling in, for anything that takes long; kernels come in the same way. */
export interface Context {
  progress(fraction: number): void;
  cancelled(): boolean;
  /** Who does the dense work; absent: typescriptKernels. */
  readonly kernels?: KernelSource;
}

/** A context that listens to nothing and never cancels. */
export const quiet: Context = { progress: () => {}, cancelled: () => false };
