import type { Stage } from "./deskTypes.ts";
import type { Settled } from "./settled.ts";

/** Nothing computed and nothing asked for. */
export const noStage = {
  status: "none",
  value: null,
  fresh: false,
  fraction: 0,
  words: "",
  fault: null,
} as const satisfies Stage<never>;

/** The document changed: what is there belongs to an earlier state of it. */
export function stale<T>(stage: Stage<T>): Stage<T> {
  const status = stage.status === "ready" ? (stage.value === null ? "none" : "ready") : stage.status;
  return { ...stage, status, fresh: false };
}

export function waiting<T>(stage: Stage<T>): Stage<T> {
  return { ...stage, status: "waiting", fraction: 0, words: "", fault: null };
}

export function working<T>(stage: Stage<T>, fraction: number, words: string): Stage<T> {
  return { ...stage, status: "working", fraction, words, fault: null };
}

export function ready<T>(value: T): Stage<T> {
  return { status: "ready", value, fresh: true, fraction: 1, words: "", fault: null };
}

/** It came to nothing; what was there before stays, marked as it was. */
export function ended<T>(stage: Stage<T>, status: "failed" | "cancelled", fault: string | null): Stage<T> {
  return { ...stage, status, fraction: 0, words: "", fault };
}

/** The stage after its answer. */
export function outcomeTold<T>(stage: Stage<T>, outcome: Settled<T>): Stage<T> {
  if (outcome.ok) return ready(outcome.value);
  if (outcome.reason === "cancelled") return ended(stage, "cancelled", null);
  return ended(stage, "failed", outcome.detail);
}
